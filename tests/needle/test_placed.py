"""Stitch files of the maker's own on a panel."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPoint, box

from hoopwright.core.findings import Finding, Severity
from hoopwright.core.types import Points
from hoopwright.needle.placed import SEAM_STITCH, plan_placed
from hoopwright.needle.placed_file import footprint
from hoopwright.needle.sewing import sew
from hoopwright.needle.shapes import Hooping
from hoopwright.operations.vocabulary import Role, Stitch
from hoopwright.outputs.machine.write import machine_files
from hoopwright.piecing.shapes import Frame
from hoopwright.project.schema import Project
from tests.outputs.machine_hoopings import ALL_KINDS, FIELD, Places, hooping, project

PANEL = box(-60, -60, 60, 60)


def ring(radius: float, at: tuple[float, float] = (0.0, 0.0), stitches: int = 24) -> list[tuple[float, float]]:
    """A locked run round a circle."""
    turns = [2 * math.pi * i / stitches for i in range(stitches + 1)]
    row = [(at[0] + radius * math.cos(t), at[1] + radius * math.sin(t)) for t in turns]
    first, last = row[0], row[-1]
    tie, untie = (first[0], first[1] + 0.5), (last[0], last[1] - 0.5)
    return [first, tie, first, *row[1:-1], last, untie, last]


MARK = hooping([ring(12), ring(5)], [ring(8)], [ring(3, (9, 9))], threads="ewn")


def written(kind: str = "pes", plan: Hooping = MARK) -> bytes:
    return machine_files(plan, project(kinds=[kind]), FIELD, "Mark")[0][0].data


def placing(*models: dict[str, object], files: dict[str, bytes] | None = None) -> Project:
    base = project().model_dump(by_alias=True)
    return Project.model_validate(base | {"panel": {"outline": base["panel"]["outline"], "placed": models}})


def placed(
    model: dict[str, object],
    data: bytes | None = None,
    frame: Frame | None = None,
    taken: Sequence[tuple[str, shapely.Polygon]] = (),
    outline: shapely.Polygon = PANEL,
) -> tuple[tuple[Stitch, ...], tuple[Finding, ...]]:
    made = placing({"file": "mark.pes", **model})
    name = made.panel.placed[0].file
    files = {name: written() if data is None else data}
    return plan_placed(made.panel, frame or Frame(), outline, taken, made, files)


def positions(blocks: Sequence[Stitch]) -> list[list[Points]]:
    made = project()
    return [[run.points for run in sew(block, made.stitching, made.machine)] for block in blocks]


def codes(findings: Sequence[Finding]) -> list[str]:
    return [f.code for f in findings]


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_a_file_of_our_own_comes_back_as_it_was(kind: str) -> None:
    name = f"mark.{kind}"
    blocks, findings = placed({"file": name, "threads": ["ecru", "weed", "night"]}, written(kind))
    assert findings == ()
    assert [(b.role, b.thread) for b in blocks] == [
        (Role.PLACED, "ecru"),
        (Role.PLACED, "weed"),
        (Role.PLACED, "night"),
    ]
    came = positions(blocks)
    assert [[len(r) for r in rows] for rows in came] == [[len(r.points) for r in s.runs] for s in MARK.steps]
    for rows, step in zip(came, MARK.steps, strict=True):
        for row, run in zip(rows, step.runs, strict=True):
            assert np.abs(row - run.points).max() <= 0.1


def test_it_is_scaled_mirrored_and_turned_about_its_middle_then_moved() -> None:
    lone: Places = [(0.0, 0.0), (0.5, 0.0), (0.0, 0.0), (3.0, 0.0), (6.0, 2.0), (5.5, 2.0), (6.0, 2.0)]
    data = written(plan=hooping([lone]))
    blocks, _ = placed({"at": [10, 20], "turn": 90, "mirror": True, "scale": 1.1, "threads": ["ecru"]}, data)
    (rows,) = positions(blocks)
    middle = np.array([3.0, 1.0])
    wanted = [(10 - 1.1 * (y - 1.0), 20 + 1.1 * -(x - 3.0)) for x, y in lone]
    assert np.abs(rows[0] - wanted).max() <= 0.1
    assert middle.tolist() == [3.0, 1.0]


def test_the_panel_s_own_frame_moves_and_turns_it_too() -> None:
    frame = Frame(shift=(5.0, 0.0), turn=90.0, back=(0.0, -3.0))
    straight, _ = placed({"at": [10, 0], "turn": 90, "threads": ["ecru"] * 3})
    framed, _ = placed({"at": [-5, 10], "threads": ["ecru"] * 3}, frame=frame)
    moved = [row + np.array([-20.0, -3.0]) for row in positions(straight)[0]]
    assert np.abs(positions(framed)[0][0] - moved[0]).max() < 1e-9


def test_threads_left_out_are_the_nearest_to_the_file_s_colours() -> None:
    blocks, (told,) = placed({"threads": ["night"]})
    assert [b.thread for b in blocks] == ["night", "weed", "night"]
    assert (told.code, told.severity) == ("HW385", Severity.NOTES)
    assert "number 2" in told.message and "Weed green and Night" in told.message


def test_a_file_without_colours_takes_the_threads_in_turn() -> None:
    blocks, (told,) = placed({"file": "mark.dst"}, written("dst"))
    assert [b.thread for b in blocks] == ["ecru", "weed", "night"]
    assert "no colours" in told.message


def test_more_threads_than_blocks_are_told() -> None:
    blocks, findings = placed({"threads": ["ecru", "weed", "night", "ecru"]})
    assert len(blocks) == 3 and codes(findings) == ["HW384"]


@pytest.mark.parametrize(("scale", "said"), [(0.89, "more of them"), (1.11, "fewer of them"), (0.5, "300 %")])
def test_rescaling_is_refused_beyond_a_tenth(scale: float, said: str) -> None:
    blocks, (refused,) = placed({"scale": scale})
    assert blocks == ()
    assert (refused.code, refused.severity) == ("HW381", Severity.BLOCKS)
    assert said in refused.message and refused.where.path == "panel.placed[1].scale"


@pytest.mark.parametrize("scale", [0.9, 1.1])
def test_a_tenth_is_allowed(scale: float) -> None:
    assert codes(placed({"scale": scale})[1]) == ["HW385"]


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("mark.pes", b"", "empty"),
        ("mark.pes", written()[:400], "cut short"),
        ("mark.dst", written("pes"), "not a stitch file of the kind dst"),
        ("mark.jef", b"\x89PNG" + bytes(4000), "jef"),
        ("mark.exp", b"", "empty"),
    ],
)
def test_a_bad_file_is_told_in_words(name: str, data: bytes, said: str) -> None:
    blocks, (told,) = placed({"file": name}, data)
    assert blocks == ()
    assert (told.code, told.severity, told.where.path) == ("HW380", Severity.BLOCKS, "panel.placed[1].file")
    assert said in told.message and told.cure


def test_a_file_that_is_not_there_is_told() -> None:
    made = placing({"file": "mark.pes"})
    blocks, (told,) = plan_placed(made.panel, Frame(), PANEL, (), made, {})
    assert blocks == () and told.code == "HW380"


def test_a_file_without_a_single_stitch_is_told() -> None:
    dots = hooping([[(0.0, 0.0)], [(5.0, 5.0)]])
    assert codes(placed({}, written(plan=dots))[1]) == ["HW380"]


def test_a_huge_file_is_refused() -> None:
    row = [(0.3 * (i % 400) - 60.0, 0.3 * (i // 400) - 40.0) for i in range(100_001)]
    _, (told,) = placed({"file": "mark.exp"}, written("exp", hooping([row])))
    assert told.code == "HW382" and "at most 100000" in told.message


def test_stitches_outside_the_panel_are_told_with_the_place() -> None:
    assert "HW383" not in codes(placed({"at": [47.9, 0]})[1])
    (told,) = (f for f in placed({"at": [50, 0]})[1] if f.code == "HW383")
    assert told.severity is Severity.BLOCKS and "2 mm past" in told.message
    assert told.where.point == (62.0, 0.0)


def test_a_file_over_a_seam_stitch_is_told_and_one_beside_it_is_not() -> None:
    seam = (f"{SEAM_STITCH}3", box(20, -50, 26, 50))
    assert codes(placed({"threads": ["ecru"] * 3}, taken=[seam])[1]) == []
    (told,) = placed({"at": [14, 0], "threads": ["ecru"] * 3}, taken=[seam])[1]
    assert told.code == "HW386" and "seam 3" in told.message
    assert told.where.point is not None and box(20, -12, 26.5, 12).contains(shapely.Point(told.where.point))


def test_seam_stitches_under_a_file_are_told_together() -> None:
    boxes = {4: box(-50, 0, 50, 4), 12: box(-50, -6, 50, -2), 7: box(40, 40, 50, 50)}
    seams = [(f"{SEAM_STITCH}{number}", place) for number, place in boxes.items()]
    (told,) = placed({"threads": ["ecru"] * 3}, taken=seams)[1]
    assert "over the seam stitches of seams 4 and 12" in told.message


def test_two_files_over_each_other_are_told() -> None:
    made = placing({"file": "a.pes", "threads": ["ecru"] * 3}, {"file": "b.pes", "at": [8, 0], "threads": ["ecru"] * 3})
    blocks, (told,) = plan_placed(made.panel, Frame(), PANEL, (), made, {"a.pes": written(), "b.pes": written()})
    assert len(blocks) == 6 and told.code == "HW386" and "b.pes is sewn over a.pes" in told.message


def test_lone_needle_positions_are_left_out_and_told() -> None:
    dotted = hooping([ring(10), [(30.0, 0.0)], ring(4)])
    (block,), (told,) = placed({"threads": ["ecru"]}, written(plan=dotted))
    assert len(positions([block])[0]) == 2 and told.code == "HW387"


def test_rows_without_locks_are_locked_and_others_left_alone() -> None:
    bare = [(3.0 * i, 0.0) for i in range(8)]
    (block,), _ = placed({"threads": ["ecru"]}, written(plan=hooping([bare, ring(5, (9, 9))])))
    first, second = positions([block])[0]
    lengths = np.hypot(*np.diff(first, axis=0).T)
    assert len(first) == len(bare) + 4 and (lengths[:2] < 0.81).all() and (lengths[-2:] < 0.81).all()
    assert len(second) == len(ring(5))


def test_no_number_of_positions_is_lost_on_the_way_to_the_steps() -> None:
    blocks, _ = placed({})
    assert sum(len(r) for rows in positions(blocks) for r in rows) == MARK.count


def test_a_footprint_covers_every_stitch_and_little_more() -> None:
    rows = [np.array(ring(3, (7.0 * i, 0.0)), dtype=np.float64) for i in range(5)]
    place = footprint(rows)
    assert place.contains(MultiPoint(np.concatenate(rows)))
    hull = MultiPoint(np.concatenate(rows)).convex_hull
    assert hull.area * 0.9 < place.area < hull.buffer(2).area
    far = footprint([rows[0], rows[0] + np.array([40.0, 0.0])])
    assert len(shapely.get_parts(far)) == 2


def test_a_large_ring_leaves_its_middle_free_and_a_letter_does_not() -> None:
    large = footprint([np.array(ring(30, stitches=90), dtype=np.float64)])
    small = footprint([np.array(ring(8), dtype=np.float64)])
    assert not large.contains(shapely.Point(0, 0)) and small.contains(shapely.Point(0, 0))
