"""What tests of the worktable share: builds of equal projects, each made once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import pytest

from hoopwright.build import Build
from hoopwright.pipeline import build
from hoopwright.project.schema import Project
from hoopwright.worktable import workbook

MOST = 40
"""So many builds are kept at hand."""
BUILT: dict[tuple[object, ...], Build] = {}


def once(project: Project, drawings: Mapping[str, bytes] | None = None, *, prove: bool = True) -> Build:
    """Build a project as the pipeline does; an equal one was built already."""
    key = (project.model_dump_json(), tuple(sorted((drawings or {}).items())), prove)
    if key not in BUILT:
        if len(BUILT) == MOST:
            del BUILT[next(iter(BUILT))]
        BUILT[key] = build(project, drawings, prove=prove)
    return BUILT[key]


@pytest.fixture(scope="package", autouse=True)
def builds_made_once() -> Iterator[None]:
    """Let every worktable of these tests share its builds, which depend on the project and its drawings alone."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(workbook, "build", once)
        yield
