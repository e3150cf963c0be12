"""What the maker wants of swatch sheets, and the project it stands for."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias, get_args

from hoopwright.core.errors import HoopwrightError
from hoopwright.core.words import listed
from hoopwright.project.fields import field_problems
from hoopwright.project.lengths import Units
from hoopwright.project.problems import clipped
from hoopwright.project.schema import ClothModel, HoopModel, Kind, Language, MachineModel, Project, ThreadModel

Family: TypeAlias = Literal["seam-stitches", "grounds"]
"""What a sheet shows."""

Weight: TypeAlias = Literal["fine", "bold", "corded"]
"""How thick each line of a seam stitch is sewn."""

Paper: TypeAlias = Literal["A4", "Letter"]

FAMILIES: Final[tuple[Family, ...]] = ("seam-stitches", "grounds")

MARKS: Final = "marks"
"""Key of the thread of numbers and outlines."""

SWATCHES: Final = "swatches"
"""Key of the thread of the swatches."""

CLOTH: Final = ClothModel(name="linen", colour="#efe6d2")
THREADS: Final = {
    MARKS: ThreadModel(name="light brown", colour="#a9824a"),
    SWATCHES: ThreadModel(name="dark blue", colour="#233a63"),
}
"""Any cloth and threads do; these are drawn."""

_SIZE: Final = re.compile(r"\s*([0-9]+(?:\.[0-9]+)?)\s*[x×X]\s*([0-9]+(?:\.[0-9]+)?)\s*(?:mm)?\s*")


@dataclass(frozen=True, slots=True)
class SwatchWish:
    """What is wanted: the hoop's field (a name such as "130x180", or any other size written so), kinds of stitch files (none: the
    usual ones), units, paper and language, weight of the seam stitches, families.
    """

    field: str = "130x180"
    kinds: tuple[str, ...] = ()
    units: Units = "mm"
    paper: Paper = "A4"
    weight: Weight = "bold"
    families: tuple[Family, ...] = FAMILIES
    language: Language = "en"


def project_of(wish: SwatchWish) -> Project:
    """Return the project that the sheets belong to. Raises HoopwrightError for a field that no hoop has or an unknown kind."""
    kinds = tuple(_kind(k) for k in dict.fromkeys(wish.kinds))
    machine = MachineModel(kinds=kinds) if kinds else MachineModel()
    return Project(
        title="Swatches",
        item="swatches",
        units=wish.units,
        paper=wish.paper,
        language=wish.language,
        hoop=HoopModel(field=_field(wish.field)),
        machine=machine,
        cloths={"linen": CLOTH},
        threads=THREADS,
    )


def _kind(text: str) -> Kind:
    """Return a kind of stitch file by its name or ending."""
    for kind in get_args(Kind):
        if text.lower().removeprefix(".") == kind:
            found: Kind = kind
            return found
    raise HoopwrightError(f"No kind of stitch file is called {clipped(text)}", f"Use {listed(get_args(Kind), 'or')}.")


def _field(text: str) -> str | tuple[float, float]:
    """Return a field by its name, or by its sides when no hoop with that name is sold."""
    problems = field_problems({"field": text})
    size = _SIZE.fullmatch(text)
    if not problems:
        return text
    if size is None or problems[0].cure.startswith("A hoop sold"):
        raise HoopwrightError(problems[0].message.capitalize(), f"{problems[0].cure}.")
    sides = (float(size[1]), float(size[2]))
    for problem in field_problems({"field": list(sides)}):
        raise HoopwrightError(problem.message.capitalize(), f"{problem.cure}.")
    return sides
