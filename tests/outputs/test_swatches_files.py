"""The folder of the swatches: stitch files read back by the library alone, equal bytes, whole or not at all."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import numpy as np
import pystitch
import pytest

from hoopwright.core.errors import BlockedError, HoopwrightError, OutputError
from hoopwright.pipeline import write_swatches
from tests.outputs.swatch_builds import sheets_of

STEP = 0.1


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("swatches") / "out"
    write_swatches(out, kinds=("dst", "pes", "vp3"))
    return out


def names(folder: Path) -> set[str]:
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}


def test_the_folder_has_what_the_record_tells(folder: Path) -> None:
    record = json.loads((folder / "build.json").read_text(encoding="utf-8"))
    keys = [h["key"] for h in record["hoopings"]]
    assert names(folder) == {*record["files"], "build.json"}
    assert set(record["files"]) == {
        *(f"machine/{k}.{kind}" for k in keys for kind in ("dst", "pes", "vp3")),
        *(f"pictures/{k}.{end}" for k in keys for end in ("png", "svg")),
        "swatch-card.pdf",
    }
    assert (record["item"], record["blocked"]) == ("swatches", False)


@pytest.mark.parametrize("kind", ["dst", "pes", "vp3"])
def test_stitch_files_hold_the_sheets_in_two_blocks(folder: Path, kind: str) -> None:
    """Read by the library alone: the same needle positions to half a step, one change of colour, within the field."""
    build, _ = sheets_of()
    for hooping in build.plan.hoopings:
        pattern = pystitch.read(str(folder / "machine" / f"{hooping.key}.{kind}"))
        sewn = np.array([(x, -y) for x, y, c in pattern.stitches if c & 0xFF == pystitch.STITCH]) * STEP
        changes = [c for *_, c in pattern.stitches if c & 0xFF == pystitch.COLOR_CHANGE]
        wanted = np.concatenate([r.points for s in hooping.steps for r in s.runs])
        assert len(changes) == 1
        assert sewn.shape == wanted.shape
        shift = np.median(sewn - wanted, axis=0)
        assert np.abs(sewn - wanted - shift).max() <= STEP / 2 + 1e-6 + np.abs(shift % STEP).max()
        assert np.all(np.abs(wanted) <= np.array([65.0 - 3.0, 90.0 - 3.0]))


@pytest.mark.no_cover
def test_the_same_sheets_have_the_same_bytes(tmp_path: Path, folder: Path) -> None:
    again = tmp_path / "again"
    write_swatches(again, kinds=("dst", "pes", "vp3"))
    assert names(again) == names(folder)
    assert [n for n in sorted(names(folder)) if (again / n).read_bytes() != (folder / n).read_bytes()] == []


@pytest.mark.no_cover
def test_an_earlier_folder_is_replaced_and_a_foreign_one_left_alone(tmp_path: Path, folder: Path) -> None:
    out = tmp_path / "out"
    shutil.copytree(folder, out)
    assert list(out.rglob("*.dst"))
    told: list[str] = []
    write_swatches(out, kinds=("exp",), only="grounds", tell=told.append)
    assert not list(out.rglob("*.dst"))
    assert told == ["stitches", "pictures", "card"]
    (out / "mine.txt").write_text("mine")
    with pytest.raises(OutputError, match=r"mine\.txt"):
        write_swatches(out, kinds=("dst",), only="grounds", tell=told.append)
    assert told == ["stitches", "pictures", "card"], "it is told before anything is made"
    assert (out / "mine.txt").read_text() == "mine"


def test_nothing_is_written_for_a_field_without_room(tmp_path: Path) -> None:
    with pytest.raises(BlockedError) as told:
        write_swatches(tmp_path / "out", field="35x35")
    assert {f.code for f in told.value.findings} >= {"HW830"}
    assert not (tmp_path / "out").exists()


def test_a_field_no_hoop_has_is_told_before_anything_is_made(tmp_path: Path) -> None:
    with pytest.raises(HoopwrightError, match="not possible"):
        write_swatches(tmp_path / "out", field="5x5")


def test_the_card_is_a_pdf_that_other_readers_open(folder: Path) -> None:
    data = (folder / "swatch-card.pdf").read_bytes()
    assert data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF")
    assert len(data) < 10_000_000
    assert io.BytesIO(data).readable()
