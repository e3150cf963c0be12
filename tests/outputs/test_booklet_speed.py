from __future__ import annotations

import time
import tomllib
from pathlib import Path

import pytest

from hoopwright.outputs.booklet import booklet_pdf
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.outputs.templates import templates_pdf
from hoopwright.pipeline import build
from hoopwright.project.schema import Project

EXAMPLE = Path(__file__).parents[2] / "examples" / "tide-mill-flap" / "project.toml"
GOAL = 1.2  # seconds for both documents, warm


@pytest.mark.bench
def test_both_documents_of_the_example_are_quick() -> None:
    made = build(Project.model_validate(tomllib.loads(EXAMPLE.read_text())))
    pictures = dict(all_pictures(made.plan))
    taken = []
    for _ in range(6):
        start = time.perf_counter()
        templates_pdf(made)
        middle = time.perf_counter()
        booklet_pdf(made, pictures)
        taken.append((middle - start, time.perf_counter() - middle))
    for name, (templates, booklet) in (("cold", taken[0]), ("warm", min(taken[1:], key=sum))):
        print(f"{name}: templates {templates * 1000:.0f} ms, booklet {booklet * 1000:.0f} ms")
    assert min(map(sum, taken[1:])) < GOAL
