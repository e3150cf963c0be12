from __future__ import annotations

import pytest
from shapely.geometry import box

from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.accents.wishes import least_size, place_of, plan_accents, titles, too_large, wish_faults
from hoopwright.piecing.shapes import Frame
from hoopwright.project.schema import PanelModel, Project

OUTLINE = box(-60.0, -60.0, 60.0, 60.0)


def project(**more: object) -> Project:
    return Project.model_validate(
        {
            "schema": 1,
            "title": "Lace",
            "cloths": {"indigo": {"name": "indigo twill", "colour": "#2f4468"}},
            "threads": {"chalk": {"name": "chalk white", "colour": "#f4f1e6"}},
            **more,
        }
    )


def codes(*accents: dict[str, object]) -> list[str]:
    return [f.code for f in planned(*accents)[1]]


def planned(*accents: dict[str, object], frame: Frame = Frame()) -> tuple:  # type: ignore[type-arg]  # noqa: B008
    return plan_accents(PanelModel.model_validate({"accents": accents}), frame, OUTLINE, project())


@pytest.mark.parametrize("name", MOTIFS)
def test_limits_of_a_motif_are_kept_with_a_message_that_names_them(name: str) -> None:
    motif = MOTIFS[name]
    for size in (motif.least, motif.most):
        assert wish_faults(AccentWish(name, size), "make", "mm") == ()
    for size in (motif.least - 1.0, motif.most + 1.0):
        (found,) = wish_faults(AccentWish(name, size), "make", "mm")
        assert found.code == "HW371" and found.severity == "blocks" and found.where.path == "make.size"
        assert f"{motif.least:g} mm to {motif.most:g} mm" in found.cure


@pytest.mark.parametrize("name", MOTIFS)
def test_more_lobes_need_more_room(name: str) -> None:
    low, usual, high = MOTIFS[name].lobes
    least = MOTIFS[name].least
    assert least_size(AccentWish(name, least, low)) == least == least_size(AccentWish(name, least, usual))
    assert [f.code for f in wish_faults(AccentWish(name, least, high), "make", "mm")] == ["HW371"]
    assert [f.code for f in wish_faults(AccentWish(name, 80.0, high + 1), "make", "mm")] == ["HW372"]


def test_an_unknown_motif_is_refused_with_the_nearest_name() -> None:
    (found,) = wish_faults(AccentWish("blosom", 50.0), "panel.accents[1]", "mm")
    assert (found.code, found.cure) == ("HW370", 'Did you mean "blossom"?')


def test_accents_are_named_by_their_motifs() -> None:
    assert titles(["leaf", "star", "leaf"]) == ("leaf 1", "star", "leaf 2")


def test_an_accent_lies_where_the_panel_puts_it_and_turns_with_it() -> None:
    (one,), found = planned({"motif": "leaf", "at": [10, 0], "turn": 30}, frame=Frame((1.0, 0.0), 90.0, (0.0, 2.0)))
    assert found == () and one.at == pytest.approx((0.0, 13.0)) and one.turn == 120.0
    assert place_of(one).centroid.distance(box(-2, 11, 2, 15)) == 0.0
    assert (one.key, one.title, one.thread) == ("leaf", "leaf", "chalk")


def test_accents_over_the_outline_or_on_each_other_are_refused() -> None:
    assert codes({"motif": "leaf", "at": [50, 0]}) == ["HW373"]
    assert codes({"motif": "leaf"}, {"motif": "leaf", "at": [10, 0]}) == ["HW374"]
    assert codes({"motif": "leaf", "at": [-20, 0]}, {"motif": "leaf", "at": [20, 0]}) == []


def test_what_is_wrong_names_its_place_in_the_file() -> None:
    _, found = planned({"motif": "leaf", "at": [-20, 0]}, {"motif": "twig"}, {"motif": "leaf", "at": [-20, 8]})
    assert [(f.code, f.where.path) for f in found] == [
        ("HW370", "panel.accents[2].motif"),
        ("HW374", "panel.accents[3].at"),
    ]


def test_an_accent_larger_than_the_hoop_is_refused() -> None:
    small = project(hoop={"field": "100x100"})
    (found,) = too_large(AccentWish("leaf", 110.0), "HW375", "panel.accents[1].size", small)
    assert found.code == "HW375" and "94 × 94 mm" in found.message
    assert too_large(AccentWish("leaf", 90.0), "HW375", "panel.accents[1].size", small) == ()
