"""The words of the booklet that are the same for every work, or nearly: headings, and how its lists are to be read.

The page source takes all its words from here, so that they can be said in another language. Words between ``_`` are set
slanted, so that a sentence can point to a word that stands elsewhere.
"""

from __future__ import annotations

from typing import Final

from hoopwright.build import Build
from hoopwright.core.findings import blocking
from hoopwright.core.words import counted
from hoopwright.project.lengths import show_length

FIXED: Final = {
    "make": "What you will make",
    "halts": "The stitch file halts wherever your hands are needed, and this booklet shows every one of these halts.",
    "before": "Before you start",
    "cloth": "Cloth",
    "pieces": "Pieces",
    "amount": "Amount",
    "amounts": "Of cloth, the amount is the strip that holds all pieces: across the cloth first, then along it; pieces are "
    "laid along the grain. Take a little more when the cloth frays.",
    "thread": "Thread",
    "length": "Length",
    "hoop": "In the hoop",
    "machine": "At the machine",
    "table": "On the table",
    "safely": "Work safely",
    "cutting": "Cutting list",
    "patch": "Patch",
    "fits": "Template fits in",
    "rough": "Rough cut",
    "covers": "Covers",
    "warp": "Warp runs",
    "other": "Other pieces",
    "piece": "Piece",
    "from": "From",
    "cut": "Cut",
    "size": "Size",
    "sizes": "Sizes hold the allowance: across the warp first, then along it, and unfolded. Templates of these pieces are in "
    "the file of templates, but not of ribbons and zips.",
    "words": "Words used here",
    "which": "Which file for which machine",
    "endings": "Take the file whose ending your machine reads. Every file halts at the same places.",
    "hooping": "Hooping",
    "files": "Stitch files",
    "sections": "Pieced in sections",
    "joining": "Sew the sections in this order. When one is done, take it out of the hoop, trim it to its allowance and "
    "remove the foundation from that allowance, so that the seam stays thin. In the next hooping it is laid right side down "
    "and flipped open exactly like one patch: its raw edge one allowance past the seam line. Where seams of two sections "
    "meet, put a fingernail into both seams and match them before you tape.",
    "hands": "Your hands",
    "then": "Then",
    "runs": "The machine runs on",
    "sews": "The machine sews",
    "stitches": "Each seam stitch is a block of its own, at which the machine stops. Change the thread where it says so, or "
    "wherever you like another.",
    "plates": "The square plates number the seams, the small numbers say in which order the patches were sewn, and the "
    "letters name them in the project.",
    "sheet": "Run sheet",
    "waits": "Where _halt_ stands, the machine waits for your hands; where _thread_ stands, change the thread; elsewhere "
    "press start, the same thread goes on.",
    "wait": "Wait",
    "halt": "halt",
    "change": "thread",
    "step": "Step",
    "sewn": "What is sewn",
    "by_hand": "Hands",
    "by_machine": "Machine",
    "end": "When all is sewn",
    "together": "Together",
    "rounded": "exact times added up, then rounded",
    "signs": "Signs in the pictures",
    "steps": "Step by step",
    "assembly": "Assembly",
    "care": "Care",
    "found": "What was found in this plan",
    "checked": "The plan was checked before it was written.",
    "sound": "Nothing forbids sewing; read the rest before you cut.",
}
"""Words by the name under which the page source asks for them."""

PIECED: Final = (
    "Each cloth is laid by hand while the machine waits, sewn along one straight line, flipped open and pressed."
)
LAID: Final = "Everything is laid by hand while the machine waits, and sewn by the machine."
STANDS: Final = "What is done by hand at the end stands under _Assembly_."
COVERS: Final = "_Covers_ is how often they did in simulated layings with a hand’s usual error."


def fixed_words(build: Build, *, pieced: bool) -> dict[str, str]:
    """Return the words of the page source by name; ``pieced`` says whether the pieced panel is the whole work."""
    return {
        **FIXED,
        "kind": f"Sewing booklet, {'pieced' if pieced else 'made'} in the hoop",
        "way": _way(build, pieced=pieced),
        "templates": _templates(build),
        "cuts": _cuts(build),
        "chance": COVERS,
        "speed": f"Machine: sewing at {build.plan.project.machine.speed} stitches a minute, and cutting the thread.",
        "hand_time": "Hands: hooping, laying, trimming, flipping, pressing, changing the thread; not cutting out the cloth.",
        "stop": _stop(len(blocking(build.findings))),
    }


def _way(build: Build, *, pieced: bool) -> str:
    """Return how the work is made, in a few sentences."""
    cloths = bool(build.estimate.cloths)
    said = [PIECED] if pieced else [LAID] if cloths else []
    said.append(FIXED["halts"])
    said += [STANDS] if build.plan.making.assembly and not pieced else []
    return " ".join(said)


def _templates(build: Build) -> str:
    """Return how to cut with templates; nothing when there are none."""
    project = build.plan.project
    if project.piecing.cut == "rough":
        return ""
    allowance = show_length(project.piecing.allowance, project.units)
    return (
        f"Templates with {allowance} allowance are in the file of templates. Print it at 100 %, measure the bar on the page, "
        "and cut each cloth with the paper’s printed side and the cloth’s right side both up."
    )


def _cuts(build: Build) -> str:
    """Return how rough cuts are read; without any, what is left of the words on sizes."""
    cut = build.plan.project.piecing.cut
    if cut == "templates" or not build.plan.panels:
        return ""
    return (
        f"{'Cut' if cut == 'rough' else 'Or cut'} the rough rectangles: they cover their patch after flipping and are trimmed "
        f"later. The first number runs along the seam; patch 1 has no seam, its sizes are wide × high."
    )


def _stop(count: int) -> str:
    """Return the warning of a plan that must not be sewn, else nothing."""
    return f"This plan has {counted(count, 'blocking finding')}: do not sew." if count else ""
