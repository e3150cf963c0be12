"""All files of a build, made in memory before anything touches the disk."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from hoopwright.build import Build
from hoopwright.core.findings import Finding
from hoopwright.outputs.booklet.booklet import booklet_pdf
from hoopwright.outputs.folder import RECORD
from hoopwright.outputs.machine.compare import compare
from hoopwright.outputs.machine.read import read_stitches
from hoopwright.outputs.machine.write import MachineFile, machine_files
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.outputs.record import record_json
from hoopwright.outputs.templates.templates import templates_pdf

Tell = Callable[[str], None]
"""Called with the name of what is being made, for a progress display."""

WARNING_NAME: Final = "DO-NOT-SEW.txt"
"""Lies in the folder of a build that was written despite blocking findings."""


def machine_stage(build: Build) -> tuple[Build, tuple[MachineFile, ...]]:
    """Write every stitch file, read it back and compare it with the plan; the findings join the build's."""
    files: list[MachineFile] = []
    found: list[Finding] = []
    project = build.plan.project
    for hooping in build.plan.hoopings:
        title = f"DO NOT SEW {project.title}" if build.blocked else project.title
        made, notes = machine_files(hooping, project, build.plan.field, title)
        found.extend(notes)
        files.extend(made)
        for file in made:
            read = read_stitches(file.data, file.name)
            found.extend(compare(hooping, read, build.plan.field, file.kind, project.hoop.margin))
    return replace(build, findings=(*build.findings, *found)), tuple(files)


def all_files(build: Build, machine: tuple[MachineFile, ...], tell: Tell = lambda _: None) -> Mapping[str, bytes]:
    """Return every file of the build by name, the record included.

    ``build`` and ``machine`` come from ``machine_stage``, so that the record and the booklet tell of its findings.
    """
    files = {f"machine/{f.name}": f.data for f in machine}
    tell("pictures")
    pictures = dict(all_pictures(build.plan, blocked=build.blocked)) if build.plan.hoopings else {}
    files |= {f"pictures/{name}": data for name, data in pictures.items()}
    if build.plan.hoopings:
        tell("templates")
        files["templates.pdf"] = templates_pdf(build)
        tell("booklet")
        files["booklet.pdf"] = booklet_pdf(build, pictures)
    if build.blocked:
        files[WARNING_NAME] = warning_text(build).encode()
    tell("record")
    files[RECORD] = record_json(build, files)
    return files


def warning_text(build: Build) -> str:
    """Return the words that lie beside the files of a blocked build."""
    lines = [f"{build.plan.project.title}: do not sew this. It was written although it cannot come out:", ""]
    lines += [f"- {f}" for f in build.findings if f.severity == "blocks"]
    return "\n".join(lines) + "\n"
