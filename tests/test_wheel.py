"""The package as a maker gets it: a wheel in an empty environment, away from the source tree."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "examples" / "tide-mill-flap"


def run(*words: str | Path, cwd: Path) -> None:
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "COV_"))}
    done = subprocess.run(
        [str(w) for w in words], cwd=cwd, env=environment, capture_output=True, text=True, timeout=900, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_wheel_builds_the_example_in_an_empty_environment(tmp_path: Path) -> None:
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", tmp_path, ROOT, cwd=tmp_path)
    (wheel,) = tmp_path.glob("hoopwright-*.whl")
    venv.create(tmp_path / "empty")
    scripts = tmp_path / "empty" / ("Scripts" if os.name == "nt" else "bin")
    constraints = ROOT / "constraints.txt"
    # What is installed is compiled when it is used: the example needs a part of it only.
    pip = (sys.executable, "-m", "pip", "--disable-pip-version-check", "--python", scripts / "python")
    run(*pip, "install", "--quiet", "--no-compile", "-c", constraints, wheel, cwd=tmp_path)
    out = tmp_path / "out"
    run(scripts / "hoopwright", "build", EXAMPLE / "project.toml", "--out", out, cwd=tmp_path)
    record = json.loads((out / "build.json").read_text(encoding="utf-8"))
    assert record["blocked"] is False
    assert {"booklet.pdf", "templates.pdf", "pictures/finished.png", "machine/panel.dst"} <= set(record["files"])
