"""Threads that a recipe's own settings name."""

from __future__ import annotations

import difflib

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import quoted
from hoopwright.project.schema import Project


def thread_findings(code: str, setting: str, key: str | None, project: Project) -> tuple[Finding, ...]:
    """Return a finding with this code when ``setting`` names a thread that the project does not have."""
    if key is None or key in project.threads:
        return ()
    near = difflib.get_close_matches(key, project.threads, n=1)
    first = f'Did you mean "{near[0]}"? ' if near else ""
    cure = f"{first}The threads are {', '.join(quoted(project.threads))}"
    return (Finding(code, Severity.BLOCKS, f'There is no thread "{key}"', cure, Where(path=f"make.{setting}")),)
