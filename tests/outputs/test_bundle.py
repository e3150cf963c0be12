from __future__ import annotations

import io
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest

from hoopwright.outputs.bundle import TIME, bundle

FILES = {"machine/panel.dst": b"\x00\x01", "booklet.pdf": b"%PDF-", "DO-NOT-SEW.txt": "Nähte\n".encode(), "empty": b""}


def test_what_goes_in_comes_out() -> None:
    with zipfile.ZipFile(io.BytesIO(bundle(FILES, "my-flap"))) as archive:
        assert archive.testzip() is None
        assert {n: archive.read(n) for n in archive.namelist()} == {f"my-flap/{n}": d for n, d in FILES.items()}
        assert {i.date_time for i in archive.infolist()} == {TIME}


def test_the_order_of_the_files_does_not_count() -> None:
    assert bundle(FILES, "a") == bundle(dict(reversed(FILES.items())), "a")


def test_other_files_give_another_archive() -> None:
    assert bundle(FILES, "a") != bundle({**FILES, "empty": b"x"}, "a")
    assert bundle(FILES, "a") != bundle(FILES, "b")


@pytest.mark.skipif(shutil.which("unzip") is None, reason="unzip is not installed")
def test_another_program_unpacks_it(tmp_path: Path) -> None:
    """Checked against a program that is not ours: files can be read by everybody and are plain files."""
    (tmp_path / "all.zip").write_bytes(bundle(FILES, "my-flap"))
    unpacking = ["unzip", "-q", "all.zip"]
    subprocess.run(unpacking, cwd=tmp_path, check=True, capture_output=True)
    assert (tmp_path / "my-flap/machine/panel.dst").read_bytes() == FILES["machine/panel.dst"]
    assert (tmp_path / "my-flap/booklet.pdf").stat().st_mode & 0o777 == 0o644
