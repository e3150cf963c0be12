"""What the card says of each swatch."""

from __future__ import annotations

import re
from typing import Final

import numpy as np

from hoopwright.core.types import Minutes, Mm
from hoopwright.core.words import counted
from hoopwright.estimate.time import sewing_minutes
from hoopwright.items.swatches.sheets import Swatch, Swatches, seam_stitch
from hoopwright.needle.grounds import GROUNDS
from hoopwright.needle.seam_stitches import OTHER_NAMES, SEAM_STITCHES
from hoopwright.needle.shapes import Run
from hoopwright.outputs.booklet.wording import long_time
from hoopwright.project.lengths import INCH, Units, show_length, show_measure
from hoopwright.project.schema import Project

PER: Final[dict[Units, Mm]] = {"mm": 100.0, "in": 4 * INCH}
"""Seam stitches are counted on so much of a seam."""

SHORT: Final[Minutes] = 2.0
"""Less is told in seconds."""

SECONDS: Final = 60

PROPER: Final = ("algerian", "chinese", "french", "mossoul", "persian", "russian", "vandyke", "y")
"""Words of other names that are written with a capital."""

_BOUND: Final = re.compile(r"(?<=[0-9]) (?=(?:mm|in|s|min|h)\b)")


def title_of(swatch: Swatch) -> str:
    """Return the title of a swatch as its table has it."""
    return SEAM_STITCHES[swatch.name].title if swatch.family == "seam-stitches" else GROUNDS[swatch.name].title


def other_names(swatch: Swatch) -> tuple[str, ...]:
    """Return the names of the trade under which a seam stitch is found: those whose nearest one in the table it is."""
    if swatch.family != "seam-stitches":
        return ()
    found = (other for other, ours in OTHER_NAMES.items() if ours[:1] == (swatch.name,))
    return tuple(" ".join(w.capitalize() if w in PROPER else w for w in other.split("-")) for other in found)


def described(swatch: Swatch) -> str:
    """Return the description of a swatch as its table has it."""
    table = SEAM_STITCHES if swatch.family == "seam-stitches" else GROUNDS
    return table[swatch.name].description


def settings_words(sheets: Swatches, swatch: Swatch) -> str:
    """Return the usual settings of a swatch, in the maker's units."""
    project, weight = sheets.plan.project, sheets.weight
    if swatch.family == "grounds":
        ground = GROUNDS[swatch.name]
        least = show_measure(ground.least_spacing, project.units)
        return f"Spacing {show_measure(ground.spacing, project.units)}, least {least}; angle {ground.angle:g}°"
    stitch = SEAM_STITCHES[swatch.name]
    width = show_measure(stitch.usual(weight), project.units)
    repeat = show_measure(stitch.wished_repeat(stitch.usual(weight)), project.units)
    return f"Width {width}, least {show_measure(stitch.least(weight), project.units)}; repeat {repeat}"


def amount_words(sheets: Swatches, swatch: Swatch) -> str:
    """Return stitches and time: on PER of a seam, or in the square."""
    project = sheets.plan.project
    if swatch.family == "grounds":
        runs, of = swatch.runs, f"in this square of {show_length(swatch.size, project.units)}"
    else:
        length = PER[project.units]
        runs = seam_stitch(project, swatch.name, length, sheets.weight)
        of = f"on {show_length(length, project.units)} of seam"
    return f"{counted(sum(r.count for r in runs), 'stitch', 'stitches')}, {time_words(_minutes(project, runs))} {of}"


def _minutes(project: Project, runs: tuple[Run, ...]) -> Minutes:
    lengths = np.concatenate([np.hypot(*np.diff(r.points, axis=0).T) for r in runs])
    return sewing_minutes(lengths, sum(r.count for r in runs), len(runs), project.machine.speed)


def time_words(minutes: Minutes) -> str:
    """Return a short time in whole seconds to the next five, a longer one in minutes."""
    if minutes >= SHORT:
        return long_time(minutes)
    return f"{max(5, 5 * round(minutes * SECONDS / 5))} s"


def bound(text: str) -> str:
    """Return the words with spaces before units that do not break."""
    return _BOUND.sub("\u00a0", text)
