"""Everything the booklet says, as plain data for its page source."""

from __future__ import annotations

from collections.abc import Mapping

from hoopwright.build import Build
from hoopwright.core.findings import Finding, Severity, blocking
from hoopwright.core.types import Mm
from hoopwright.core.words import counted
from hoopwright.items.registry import recipe_named
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.booklet.assembly import assembly, cautions, words_used
from hoopwright.outputs.booklet.cutting import cutting
from hoopwright.outputs.booklet.fixed import FIXED, fixed_words
from hoopwright.outputs.booklet.halts import bench_of, ending, grouped, halt, sewn_row
from hoopwright.outputs.booklet.materials import at_the_machine, hand_work, kind_notes, machine_files, materials
from hoopwright.outputs.booklet.pictures import picture, step_file
from hoopwright.outputs.booklet.sizes import sewn_sizes, size_words
from hoopwright.outputs.booklet.wording import NOTHING, long_time, sentence, short_time, verb_column
from hoopwright.outputs.naming import hooping_title, lowered, spaced
from hoopwright.outputs.saying import saying
from hoopwright.piecing.shapes import PiecedPanel
from hoopwright.project.lengths import show_size

COVER: tuple[Mm, Mm] = (150.0, 118.0)
"""Width and height of the picture on the cover at most."""

LEGEND: tuple[Mm, Mm] = (112.0, 85.0)
"""Width and height of the signs in the pictures at most."""

LEGEND_ALT = "The signs in the pictures of this booklet, each with its meaning."

HYPHENATED = ("de",)
"""Languages whose words are too long for narrow columns unless they are divided."""

GRAVITY = {Severity.BLOCKS: "Blocks", Severity.WARNS: "Warning", Severity.NOTES: "Note"}


def content(build: Build, pictures: Mapping[str, bytes]) -> dict[str, object]:
    """Return what the page source reads; all numbers are already words in the maker's units."""
    project = build.plan.project
    return {
        "document": f"{project.title}: sewing booklet",
        "title": project.title,
        "say": fixed_words(build, pieced=whole_is_pieced(build)),
        "language": project.language,
        "hyphenate": project.language in HYPHENATED,
        "verbs": verb_column(saying(project), hand_work(build.plan)),
        "paper": {"A4": "a4", "Letter": "us-letter"}[project.paper],
        "blocking": len(blocking(build.findings)),
        "cover": _cover(build, pictures),
        "cautions": list(cautions(build.plan)),
        "words": words_used(build.plan),
        "materials": materials(build),
        "files": machine_files(build),
        "kinds": kind_notes(project),
        "machine": at_the_machine(project),
        "cutting": cutting(build),
        "sections": _sections(build),
        "legend": picture(pictures, ("legend.svg",), LEGEND_ALT, LEGEND),
        "assembly": assembly(build, pictures),
        "care": [sentence(c) for c in build.plan.making.care],
        "hoopings": [_hooping(build, k, h, pictures) for k, h in enumerate(build.plan.hoopings, start=1)],
        "findings": _findings(build),
    }


def _cover(build: Build, pictures: Mapping[str, bytes]) -> dict[str, object]:
    estimate = build.estimate
    halts = sum(s.halt for h in build.plan.hoopings for s in h.steps)
    facts = [
        _size_fact(build),
        ("Hoop field", show_size(*build.plan.field, build.plan.project.units)),
    ]
    if build.plan.hoopings:
        whole, sewing = long_time(estimate.machine + estimate.hands), long_time(estimate.machine)
        time = f"{whole}, the machine sews {sewing} of it"
        facts += [
            ("Time", time),
            ("Halts for your hands", f"{halts}, in {counted(len(build.plan.hoopings), 'hooping')}"),
        ]
    return {
        "what": _what(build),
        "facts": [{"name": n, "value": v} for n, v in facts if v],
        "pictures": _cover_pictures(build, pictures),
    }


def _size_fact(build: Build) -> tuple[str, str]:
    """Return the size on the cover: of the panel when it is the whole work, else of the sewn body or what is pieced."""
    sewn = () if whole_is_pieced(build) else sewn_sizes(build.plan)
    name = "Finished size" if whole_is_pieced(build) else "Sewn body" if sewn else "Pieced"
    return name, " and ".join(sewn or dict.fromkeys(_size(build, p) for p in build.plan.panels))


def _cover_pictures(build: Build, pictures: Mapping[str, bytes]) -> list[dict[str, object]]:
    """Return the pictures on the cover: every finished panel; without one, the last hooping as it leaves the hoop."""
    names = [n for n in ("finished.png", "finished.svg") if n in pictures][:1]
    names = names or sorted(n for n in pictures if n.startswith("finished-") and n.endswith(".png"))
    if not names and build.plan.hoopings:
        longest = max(build.plan.hoopings, key=lambda h: len(h.steps))
        names = [step_file(longest.key, len(longest.steps) + 1)]
    room = (COVER[0] / max(len(names), 1), COVER[1])
    alt = f"The finished work: {_what(build)}" if whole_is_pieced(build) else "A pieced part of the work, finished."
    found = [picture(pictures, (n,), alt, room) for n in names]
    return [p for p in found if p is not None]


def whole_is_pieced(build: Build) -> bool:
    """Whether the pieced panel is the whole work, as with a panel or block."""
    return len(build.plan.panels) == 1 and not build.plan.making.pieces


def _size(build: Build, panel: PiecedPanel) -> str:
    left, low, right, high = panel.outline.bounds
    return show_size(right - left, high - low, build.plan.project.units)


def _what(build: Build) -> str:
    """Return in a few sentences what is made."""
    recipe, _ = recipe_named(build.plan.project.item)
    said = []
    if recipe and not whole_is_pieced(build):
        said += [f"{recipe.title}: {lowered(recipe.summary)}", size_words(build.plan)]
    for panel in build.plan.panels:
        patches = [p for p in panel.patches if p.made_of is None]
        cloths = {p.cloth for p in patches}
        said.append(
            f"{_panel_words(build, panel)}, {_size(build, panel)} when finished: "
            f"{counted(len(patches), 'patch', 'patches')} of {counted(len(cloths), 'cloth')}."
        )
    return " ".join(sentence(s) for s in said if s)


def _panel_words(build: Build, panel: PiecedPanel) -> str:
    return "A pieced panel" if whole_is_pieced(build) else f"The pieced {spaced(panel.key)}"


def _sections(build: Build) -> list[dict[str, object]]:
    """Return how sections are joined, for every panel that needs more than one."""
    return [
        {
            "said": f"This panel cannot be pieced on one foundation, because not every seam can be reached as one straight line. "
            f"It is made of {len(panel.order.sections)} sections, each in a hooping of its own:",
            "steps": [
                sentence(f"section S{s.number}: {counted(len(s.letters), 'patch', 'patches')} {', '.join(s.letters)}")
                for s in panel.order.sections[:-1]
            ],
        }
        for panel in build.plan.panels
        if len(panel.order.sections) > 1
    ]


def _hooping(build: Build, number: int, hooping: Hooping, pictures: Mapping[str, bytes]) -> dict[str, object]:
    bench = bench_of(build, hooping, pictures)
    machine, hands = build.estimate.machine_of(hooping.key), build.estimate.hands_of(hooping.key)
    title, end = hooping_title(build.plan, hooping), short_time(dict(build.estimate.ends).get(hooping.key, 0.0))
    several = len(build.plan.hoopings) > 1
    return {
        "key": hooping.key,
        "title": title,
        "heading": f"Hooping {number}: {title}" if several else FIXED["sheet"],
        "about": f"Every block of the hooping in sewing order, about {long_time(machine + hands)} with hand work.",
        "sums": {"machine": short_time(machine), "hands": short_time(hands)},
        "end_time": end,
        "end_times": f"hands {end}" if end != NOTHING else "",
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
            "gravity": severity.value,
            "word": GRAVITY[severity],
            "said": [{"message": sentence(f.message), "where": str(f.where)} for f in found],
            "cure": sentence(cure),
        }
        for (code, severity, cure), found in groups.items()
    ]
