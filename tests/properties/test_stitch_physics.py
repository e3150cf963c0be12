"""Whatever is sewn, the rules about stitches answer; and whatever bytes are placed, something is said in words."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.checks.rules import check
from hoopwright.items.plan import Plan
from hoopwright.needle.maps import AREA, hole_map, thread_map
from hoopwright.needle.placed import plan_placed
from hoopwright.needle.shapes import Hooping
from hoopwright.piecing.frame import frame_of
from tests.needle.test_placed import MARK, PANEL, placing, written
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, project, random_hoopings

FILES = {kind: written(kind) for kind in ALL_KINDS}


def plan_with(hooping: Hooping) -> Plan:
    return Plan(project(), FIELD, (), (hooping,), ())


@given(random_hoopings())
def test_every_rule_answers_and_names_a_place_that_is_sewn(hooping: Hooping) -> None:
    points = np.concatenate([run.points for step in hooping.steps for run in step.runs])
    for finding in check(plan_with(hooping)):
        assert finding.message and finding.cure
        if finding.where.point is not None:
            assert np.hypot(*(points - finding.where.point).T).min() < 2.0


@given(random_hoopings())
def test_maps_hold_every_hole_and_all_thread(hooping: Hooping) -> None:
    holes, thread = hole_map(hooping), thread_map(hooping)
    rows = [run.points for step in hooping.steps for run in step.runs]
    different = {tuple(p) for row in rows for p in np.round(row * 10.0).tolist()}
    assert 1 <= holes.counts.max() <= len(different)
    assert holes.density.max() == holes.counts.max() / AREA
    sewn = sum(math.dist(a, b) for row in rows for a, b in pairwise(row.tolist()))
    assert math.isclose(thread.thread.sum(), sewn, rel_tol=1e-9, abs_tol=1e-9)


@given(
    st.sampled_from(ALL_KINDS),
    st.integers(0, 10_000),
    st.integers(0, 255),
    st.integers(1, 40),
    st.booleans(),
)
@settings(deadline=None)
def test_damaged_files_are_placed_or_told_never_more(kind: str, at: int, byte: int, count: int, cut: bool) -> None:
    data = bytearray(FILES[kind])
    at %= len(data)
    if cut:
        del data[at:]
    else:
        data[at : at + count] = bytes([byte]) * min(count, len(data) - at)
    made = placing({"file": f"mark.{kind}"})
    blocks, findings = plan_placed(made.panel, frame_of(made.panel, {}), PANEL, (), made, {f"mark.{kind}": bytes(data)})
    assert blocks or {f.code for f in findings} & {"HW380", "HW382"}
    assert all(f.message and f.cure for f in findings)


@given(
    st.sampled_from(ALL_KINDS),
    st.floats(-40, 40),
    st.floats(-40, 40),
    st.floats(-360, 360),
    st.booleans(),
    st.floats(0.9, 1.1),
)
@settings(deadline=None, max_examples=40)
def test_placing_moves_everything_alike(kind: str, x: float, y: float, turn: float, mirror: bool, scale: float) -> None:
    """All distances between needle positions grow by the scale alone, and the middle lies where it was asked."""
    name = f"mark.{kind}"
    made = placing({"file": name, "at": [x, y], "turn": turn, "mirror": mirror, "scale": scale})
    blocks, _ = plan_placed(made.panel, frame_of(made.panel, {}), PANEL, (), made, {name: FILES[kind]})
    came = np.array([p for b in blocks for row in b.style.rows for p in row])  # type: ignore[union-attr]
    was = np.concatenate([run.points for step in MARK.steps for run in step.runs])
    assert len(came) == len(was)
    step = 7
    apart = np.hypot(*(came[step:] - came[:-step]).T)
    assert np.abs(apart - scale * np.hypot(*(was[step:] - was[:-step]).T)).max() < 0.16
    middle = (was.min(axis=0) + was.max(axis=0)) / 2.0
    centre = np.argmin(np.hypot(*(was - middle).T))
    assert math.isclose(
        math.dist(came[centre].tolist(), (x, y)), scale * math.dist(was[centre].tolist(), middle.tolist()), abs_tol=0.12
    )
