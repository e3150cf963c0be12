"""Everything the booklet says, as plain data for its page source."""

from __future__ import annotations

from collections.abc import Mapping

from hoopwright.build import Build
from hoopwright.core.findings import Finding, Severity, blocking
from hoopwright.core.types import Mm
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.booklet.cutting import cutting
from hoopwright.outputs.booklet.halts import bench_of, ending, grouped, halt, sewn_row
from hoopwright.outputs.booklet.materials import kind_notes, machine_files, materials
from hoopwright.outputs.booklet.pictures import picture
from hoopwright.outputs.booklet.wording import counted, long_time, sentence
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.lengths import show_length, show_size

COVER: tuple[Mm, Mm] = (150.0, 118.0)
"""Width and height of the picture on the cover at most."""

LEGEND: tuple[Mm, Mm] = (150.0, 80.0)
"""Width and height of the signs in the pictures at most."""

LEGEND_ALT = "The signs in the pictures of this booklet, each with its meaning."

GRAVITY = {Severity.BLOCKS: "Blocks", Severity.WARNS: "Warning", Severity.NOTES: "Note"}


def content(build: Build, pictures: Mapping[str, bytes]) -> dict[str, object]:
    """Return what the page source reads; all numbers are already words in the maker's units."""
    project = build.plan.project
    return {
        "title": project.title,
        "paper": {"A4": "a4", "Letter": "us-letter"}[project.paper],
        "blocking": len(blocking(build.findings)),
        "cover": _cover(build, pictures),
        "materials": materials(build),
        "files": machine_files(build),
        "kinds": kind_notes(project),
        "cutting": cutting(build),
        "allowance": show_length(project.piecing.allowance, project.units),
        "sections": _sections(build),
        "legend": picture(pictures, ("legend.svg",), LEGEND_ALT, LEGEND),
        "hoopings": [_hooping(build, h, pictures) for h in build.plan.hoopings],
        "findings": _findings(build),
    }


def _cover(build: Build, pictures: Mapping[str, bytes]) -> dict[str, object]:
    alt = f"The finished work: {_what(build)}"
    estimate = build.estimate
    halts = sum(s.halt for h in build.plan.hoopings for s in h.steps)
    facts = [
        ("Finished size", " and ".join(_size(build, p) for p in build.plan.panels)),
        ("Hoop field", show_size(*build.plan.field, build.plan.project.units)),
    ]
    if build.plan.hoopings:
        time = f"{long_time(estimate.machine + estimate.hands)}, the machine sews {long_time(estimate.machine)} of it"
        facts += [
            ("Time", time),
            ("Halts for your hands", f"{halts}, in {counted(len(build.plan.hoopings), 'hooping')}"),
        ]
    names = ("finished.png", "finished.svg", *sorted(n for n in pictures if "finished" in n))
    return {
        "what": _what(build),
        "facts": [{"name": n, "value": v} for n, v in facts if v],
        "picture": picture(pictures, names, alt, COVER),
    }


def _size(build: Build, panel: PiecedPanel) -> str:
    left, low, right, high = panel.outline.bounds
    return show_size(right - left, high - low, build.plan.project.units)


def _what(build: Build) -> str:
    """Return in one or two sentences what is made."""
    said = []
    for panel in build.plan.panels:
        patches = [p for p in panel.patches if p.made_of is None]
        cloths = {p.cloth for p in patches}
        said.append(
            f"A pieced panel, {_size(build, panel)} when finished: {counted(len(patches), 'patch', 'patches')} "
            f"of {counted(len(cloths), 'cloth')}."
        )
    return " ".join(said)


def _sections(build: Build) -> list[dict[str, object]]:
    """Return how sections are joined, for every panel that needs more than one."""
    return [
        {
            "count": len(panel.order.sections),
            "steps": [
                sentence(f"section S{s.number}: {counted(len(s.letters), 'patch', 'patches')} {', '.join(s.letters)}")
                for s in panel.order.sections[:-1]
            ],
        }
        for panel in build.plan.panels
        if len(panel.order.sections) > 1
    ]


def _hooping(build: Build, hooping: Hooping, pictures: Mapping[str, bytes]) -> dict[str, object]:
    bench = bench_of(build, hooping, pictures)
    times = [s for s in build.estimate.steps if s.hooping == hooping.key]
    return {
        "key": hooping.key,
        "title": hooping.title,
        "time": long_time(sum(s.machine + s.hands for s in times)),
        "rows": [sewn_row(bench, s) for s in hooping.steps],
        "halts": [halt(bench, g) for g in grouped(hooping.steps)],
        "after": ending(bench),
    }


def _findings(build: Build) -> list[dict[str, object]]:
    """Return the findings, gravest first; those with the same code and cure stand together."""
    gravity = list(Severity)
    ordered = sorted(build.findings, key=lambda f: gravity.index(f.severity))
    groups: dict[tuple[str, Severity, str], list[Finding]] = {}
    for finding in ordered:
        groups.setdefault((finding.code, finding.severity, finding.cure), []).append(finding)
    return [
        {
            "code": code,
            "kind": severity.value,
            "word": GRAVITY[severity],
            "said": [{"message": sentence(f.message), "where": str(f.where)} for f in found],
            "cure": sentence(cure),
        }
        for (code, severity, cure), found in groups.items()
    ]
