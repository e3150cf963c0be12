"""Hoopings made by hand for the tests of stitch files."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from hypothesis import strategies as st

from hoopwright.core.types import frozen_points
from hoopwright.needle.shapes import Hooping, Run, Step
from hoopwright.operations.vocabulary import Press, Role, RunStyle, Stitch
from hoopwright.outputs.machine.kinds import KINDS
from hoopwright.project.schema import Project

ALL_KINDS = tuple(KINDS)
FIELD = (130.0, 180.0)

Places = Sequence[tuple[float, float]]


def project(halt_at: object = "stay", kinds: Sequence[str] = ALL_KINDS, **hoop: object) -> Project:
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Tide mill flap",
            "cloths": {"linen": {"name": "Linen", "colour": "#e0d8c0"}},
            "threads": {
                "ecru": {"name": "Écru", "colour": "#f4eedd"},
                "weed": {"name": "Weed green", "colour": "#2f5933"},
                "night": {"name": "Night", "colour": "#000000"},
            },
            "machine": {"kinds": kinds, "halt_at": halt_at},
            "hoop": {"field": FIELD, **hoop},
            "panel": {"outline": {"shape": "rectangle", "width": 50, "height": 40}},
        }
    )


def step(index: int, runs: Sequence[Places], thread: str = "ecru", halt: bool = True) -> Step:
    stitch = Stitch(Role.SEAM, f"seam {index}", thread, (), RunStyle(2.5), "Sew the seam")
    hands = (Press("A", "Press the patch"),) if halt else ()
    return Step(index, stitch, hands, tuple(Run(frozen_points(list(r))) for r in runs))


def hooping(*steps: Sequence[Places], threads: str = "") -> Hooping:
    names = {"e": "ecru", "w": "weed", "n": "night"}
    keys = [names[c] for c in threads.ljust(len(steps), "e")]
    rows = tuple(step(i + 1, runs, keys[i]) for i, runs in enumerate(steps))
    return Hooping("flap", "Flap", "flap", 1, rows)


def wandering(seed: int, stitches: int, blocks: int = 4, longest: float = 5.0) -> Hooping:
    """A hooping of random walks inside the field, two runs a block."""
    rng = np.random.default_rng(seed)
    steps = []
    for _ in range(blocks):
        walks = np.cumsum(rng.uniform(-longest / 1.5, longest / 1.5, (2, stitches // blocks // 2, 2)), axis=1)
        steps.append([np.clip(w + rng.uniform(-40, 40, 2), -60, 60).tolist() for w in walks])
    return hooping(*steps, threads="eewn" * blocks)


PLACES = st.tuples(st.floats(-62, 62, allow_nan=False), st.floats(-87, 87, allow_nan=False))
RUNS = st.lists(st.lists(PLACES, min_size=1, max_size=12), min_size=1, max_size=3)


@st.composite
def random_hoopings(draw: st.DrawFn) -> Hooping:
    steps = draw(st.lists(RUNS, min_size=1, max_size=4))
    return hooping(*steps, threads="".join(draw(st.sampled_from("ewn")) for _ in steps))
