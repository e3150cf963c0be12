"""All files of a build, made in memory before anything touches the disk."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from hoopwright.build import Build
from hoopwright.core.findings import Finding
from hoopwright.outputs.booklet.booklet import booklet_pdf
from hoopwright.outputs.drawing.svg import to_svg
from hoopwright.outputs.folder import RECORD
from hoopwright.outputs.letters import letter_findings
from hoopwright.outputs.machine.compare import compare
from hoopwright.outputs.machine.write import MachineFile, machine_files
from hoopwright.outputs.pictures.map import map_drawing
from hoopwright.outputs.pictures.pictures import all_pictures
from hoopwright.outputs.pictures.stamp import stamped
from hoopwright.outputs.record import record_json
from hoopwright.outputs.saying import Say, saying, titled
from hoopwright.outputs.templates.templates import templates_pdf
from hoopwright.stitchfiles.read import read_stitches

Tell = Callable[[str], None]
"""Called with the name of what is being made, for a progress display."""

OUTSIDE: Final = "HW601"
"""The plan leaves the field."""

OUTSIDE_FILE: Final = "HW815"
"""A stitch file leaves the field."""

WARNING_NAME: Final = "DO-NOT-SEW.txt"
"""Lies in the folder of a build that was written despite blocking findings."""


def machine_stage(build: Build) -> tuple[Build, tuple[MachineFile, ...]]:
    """Write every stitch file, read it back and compare it with the plan; the findings join the build's.

    Files of a blocked plan carry the warning in their names for the machine, also when only reading back blocks it.
    """
    files, found = _written(build, warn=build.blocked)
    checked = replace(build, findings=(*build.findings, *found, *letter_findings(build.plan.project)))
    if checked.blocked and not build.blocked:
        files, _ = _written(build, warn=True)
    return checked, files


def _written(build: Build, *, warn: bool) -> tuple[tuple[MachineFile, ...], tuple[Finding, ...]]:
    """Return the stitch files and what was found; that a hooping leaves the field is not told again for every file."""
    files: list[MachineFile] = []
    found: list[Finding] = []
    project, field = build.plan.project, build.plan.field
    title = saying(project)(f"DO NOT SEW {project.title}") if warn else project.title
    told = {f.where.hooping for f in build.findings if f.code == OUTSIDE}
    for hooping in build.plan.hoopings:
        made, notes = machine_files(hooping, project, field, title)
        files.extend(made)
        found.extend(notes)
        for file in made:
            read = read_stitches(file.data, file.name)
            differences = compare(hooping, read, field, file.kind, project.hoop.margin)
            found.extend(f for f in differences if f.code != OUTSIDE_FILE or hooping.key not in told)
    return tuple(files), tuple(found)


def all_files(build: Build, machine: tuple[MachineFile, ...], tell: Tell = lambda _: None) -> Mapping[str, bytes]:
    """Return every file of the build by name, the record included.

    ``build`` and ``machine`` come from ``machine_stage``, so that the record and the booklet tell of its findings.
    """
    files = {f"machine/{f.name}": f.data for f in machine}
    tell("pictures")
    pictures = dict(all_pictures(build.plan, blocked=build.blocked)) if build.plan.hoopings else {}
    pictures |= map_pictures(build)
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


def map_pictures(build: Build) -> Mapping[str, bytes]:
    """Return the map of every panel as SVG by file name, also of panels that cannot be sewn, with findings ringed."""
    panels = build.plan.panels
    names = {p.key: "map.svg" if len(panels) == 1 else f"map-{p.key}.svg" for p in panels}
    drawings = {p.key: map_drawing(build.plan, p.key, build.findings) for p in panels}
    say = saying(build.plan.project)
    shown = {k: stamped(d, say) if build.blocked else d for k, d in drawings.items()}
    return {names[k]: to_svg(titled(d, say)).encode() for k, d in shown.items()}


def warning_text(build: Build) -> str:
    """Return the words that lie beside the files of a blocked build."""
    say = saying(build.plan.project)
    lines = [say(f"{build.plan.project.title}: do not sew this. It was written although it cannot come out:"), ""]
    lines += [f"- {_told(f, say)}" for f in build.findings if f.severity == "blocks"]
    return "\n".join(lines) + "\n"


def _told(finding: Finding, say: Say) -> str:
    """Return a finding on one line."""
    place, message = str(finding.where), finding.message.rstrip(".")
    head = f"{finding.code} {say(str(finding.severity))}: {say(message)}"
    return f"{head}{f' ({say(place)})' if place else ''}. {say(finding.cure)}"
