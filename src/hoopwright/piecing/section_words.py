"""Sections in the maker's words."""

from __future__ import annotations

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed
from hoopwright.piecing.order_words import several
from hoopwright.piecing.shapes import Member, Section


def sections_finding(sections: tuple[Section, ...]) -> Finding:
    """Return HW225: how many sections there are, which patches they bring, and how they are joined."""
    joins = [_join(sections, on, m) for on in sections for m in on.members if m.section is not None]
    message = (
        f"This panel cannot be sewn on one foundation; it is made in {several(len(sections), 'section')}, the last of "
        f"which is the panel itself. {' '.join(joins)}"
    )
    cure = (
        "Piece each section on a foundation of its own, trim it to its seam allowance, and join it when its step comes"
    )
    return Finding("HW225", Severity.NOTES, message.removesuffix("."), cure, Where("panel.patchwork"))


def _join(sections: tuple[Section, ...], on: Section, member: Member) -> str:
    brings = f"{'patch' if len(member.letters) == 1 else 'patches'} {listed(member.letters)}"
    target = "the panel" if on.number == len(sections) else f"S{on.number}"
    seam = f"seam {member.seam.number}" if member.seam is not None else "no seam"
    return f"Join S{member.section} ({brings}) to {target} along {seam}, like one patch."


def bounded_finding() -> Finding:
    """Return HW226: the search for fewer sections was cut short."""
    message = "The drawing is so intricate that the search for the fewest sections was cut short: there may be a way with fewer"
    return Finding(
        "HW226",
        Severity.NOTES,
        message,
        "Let some seams run straight through to need fewer sections",
        Where("panel.patchwork"),
    )
