from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import box

from hoopwright.cloth.replay import bench_of, replay
from hoopwright.core.findings import Severity, blocking
from hoopwright.items.plan import Plan
from hoopwright.items.registry import recipe_named
from hoopwright.needle.accents.placing import BETWEEN
from hoopwright.operations.vocabulary import DrawnStyle, Hoop, Release, Role
from hoopwright.pipeline import build, plan
from hoopwright.project.load import load
from tests.items.small_items import project_of

EXAMPLE = Path(__file__).parents[2] / "examples" / "tide-lace" / "project.toml"


@pytest.fixture(scope="module")
def made() -> Plan:
    return plan(load(EXAMPLE).project)


def told(made: Plan) -> str:
    """Everything the hands are told."""
    return " ".join(_sentences(made))


def _sentences(made: Plan) -> Iterator[str]:
    for hooping in made.hoopings:
        yield from (h.sentence for step in hooping.steps for h in step.hands)
        yield from (h.sentence for h in hooping.after)
    yield from (h.sentence for h in made.making.assembly)
    yield from made.making.care


@pytest.mark.no_cover
def test_the_example_builds_with_nothing_worse_than_a_note() -> None:
    found = build(load(EXAMPLE).project).findings
    assert {f.code for f in found if f.severity is not Severity.NOTES} == set()


def test_all_accents_share_one_hooping_and_those_of_one_thread_a_block(made: Plan) -> None:
    (hooping,) = made.hoopings
    assert [(s.stitch.role, s.stitch.thread, len(s.runs)) for s in hooping.steps] == [
        (Role.ACCENT, "reed", 2),
        (Role.ACCENT, "madder", 1),
        (Role.ACCENT, "foam", 1),
        (Role.ACCENT, "gold", 1),
    ]
    assert [s.halt for s in hooping.steps] == [True, False, False, False]


def test_every_accent_is_one_run_and_they_keep_clear_of_each_other(made: Plan) -> None:
    runs = [run.points for step in made.hoopings[0].steps for run in step.runs]
    boxes = [box(*p.min(axis=0), *p.max(axis=0)) for p in runs]
    assert all(a.distance(b) >= BETWEEN - 0.1 for i, a in enumerate(boxes) for b in boxes[:i])
    rows = [row for step in made.hoopings[0].steps for row in _style(step.stitch.style).rows]
    assert [len(r) for r in rows] == [len(p) - 4 for p in runs], "locks at both ends are all that is added"


def _style(style: object) -> DrawnStyle:
    assert isinstance(style, DrawnStyle)
    return style


def test_when_the_base_is_gone_nothing_is_left_that_is_no_thread(made: Plan) -> None:
    stacks = replay(made.hoopings[0], bench_of(made.project))
    assert all(layer.foundation for layer in stacks[-2].layers) and stacks[-2].layers
    assert stacks[-1].layers == ()
    (out,) = [h for h in made.hoopings[0].after if isinstance(h, Release)]
    assert out.foundation_goes


def test_film_is_for_water_and_net_is_warmed_with_care() -> None:
    """Cautions of the trade: soluble film is for water, not heat; warming net gives off fumes and can burn."""
    film, net = (plan(project_of("accent", base=base)) for base in ("film", "net"))
    assert [h.layers for h in _hoops(film)] == [("water-soluble film", "water-soluble film")]
    assert [h.layers for h in _hoops(net)] == [("fine synthetic net",)]
    assert "hand-warm water" in told(film) and "never for heat" in told(film) and "hot tool" not in told(film)
    for word in (
        "fumes",
        "can burn",
        "glass or ceramic",
        "windows open",
        "water beside you",
        "never leave the hot tool",
    ):
        assert word in told(net)
    assert "scrap" in told(net) and "film" not in told(net)


def _hoops(made: Plan) -> list[Hoop]:
    return [h for hooping in made.hoopings for s in hooping.steps for h in s.hands if isinstance(h, Hoop)]


def test_small_parts_are_told_by_the_cylinder_of_the_rule() -> None:
    """16 CFR 1501.4: 1.25 inches wide, 2.25 inches deep."""
    said = told(plan(project_of("accent")))
    assert f"{1.25 * 25.4:.2f} mm wide" in said and f"{2.25 * 25.4:.2f} mm deep" in said and "three" in said


def test_it_tells_how_each_is_tacked_on() -> None:
    said = told(plan(project_of("accent")))
    assert "by hand" in said and "[[panel.accents]]" in said and "dry" in said.lower() and "shape" in said


@pytest.mark.no_cover
def test_more_than_a_hooping_holds_goes_into_several() -> None:
    many = plan(project_of("accent", size=60, count=9))
    assert [h.key for h in many.hoopings] == ["accent-1", "accent-2", "accent-3"]
    assert sum(len(s.runs) for h in many.hoopings for s in h.steps) == 9
    assert blocking(build(many.project).findings) == ()


def test_of_several_with_a_seed_each_grows_in_its_own_way() -> None:
    askew, regular = (
        plan(project_of("accent", motif="blossom", count=2, seed=seed)).hoopings[0].steps[0].runs for seed in (4, 0)
    )
    same = [
        len(a.points) == len(b.points) and np.allclose(np.diff(a.points, axis=0), np.diff(b.points, axis=0))
        for a, b in (askew, regular)
    ]
    assert same == [False, True]


@pytest.mark.parametrize(
    ("make", "code"),
    [
        ({"size": 20}, "HW371"),
        ({"lobes": 12}, "HW372"),
        ({"motif": "twig"}, "HW402"),
        ({"thread": "silver"}, "HW477"),
        ({"size": 120, "motif": "blossom"}, "HW476"),
        ({"others": [{"motif": "star", "size": 10}]}, "HW371"),
        ({"others": [{"motif": "star", "thread": "silver"}]}, "HW477"),
    ],
)
def test_what_cannot_be_made_is_refused(make: dict[str, object], code: str) -> None:
    field = "100x100" if code == "HW476" else "130x180"
    found = blocking(plan(project_of("accent", field, **make)).findings)
    assert [f.code for f in found] == [code]
    assert found[0].where.path is not None and found[0].where.path.startswith("make")


def test_it_is_among_the_items() -> None:
    recipe, _ = recipe_named("accent")
    assert recipe is not None and recipe.title == "Accent"
