"""What the sheets of a hooping are called: patches by number and letter, pieces by their titles."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hoopwright.items.plan import Plan
from hoopwright.needle.shapes import Hooping
from hoopwright.outputs.saying import Say


@dataclass(frozen=True, slots=True)
class SheetName:
    """``words`` stand in a sentence ("2 (B)", "section S1", "the pocket"), ``sign`` in a picture ("2", "S1", "Pocket")."""

    words: str
    sign: str
    patch: bool = False

    @property
    def numbered(self) -> bool:
        """Whether the sign is a number or a section's label, which the layout sews, and not a title."""
        return self.patch or not self.words.startswith("the ")

    def drawn(self, say: Say) -> SheetName:
        """Return the name as it stands in a picture in another language; numbers and labels of sections stay."""
        return self if self.numbered else replace(self, sign=say(self.sign))


def sheet_names(plan: Plan, hooping: Hooping) -> dict[str, SheetName]:
    """Return the names of all sheets that may lie in a hooping, by the names its Lays use."""
    names = {p.key: SheetName(f"the {lowered(p.title)}", p.title) for p in plan.making.pieces}
    for panel in plan.panels:
        names.setdefault(panel.key, SheetName(f"the pieced {spaced(panel.key)}", spaced(panel.key).capitalize()))
    for patch in (p for panel in plan.panels if panel.key == hooping.panel for p in panel.patches):
        names[patch.label] = (
            SheetName(f"{patch.number} ({patch.letters[0]})", str(patch.number), patch=True)
            if patch.made_of is None
            else SheetName(f"section {patch.label}", patch.label)
        )
    return names


def name_of(names: dict[str, SheetName], sheet: str) -> SheetName:
    """Return the name of a sheet; one that nobody named is called by its key."""
    return names.get(sheet) or SheetName(f"the {spaced(sheet)}", raised(spaced(sheet)))


def hooping_title(plan: Plan, hooping: Hooping) -> str:
    """Return the title of a hooping below that of the work, which is not said again: "Flap" for "Flap of Quay pouch"."""
    return hooping.title.removesuffix(f" of {plan.project.title}")


def lowered(title: str) -> str:
    """Return a title as it stands in a sentence: its first letter small, unless it is an abbreviation or like "D-ring"."""
    plain = title[1:2].islower() or title[1:2] in ("", " ")
    return title[:1].lower() + title[1:] if plain else title


def raised(words: str) -> str:
    """Return words with a large first letter, the others as they are: a name of the maker's may have large ones inside."""
    return words[:1].upper() + words[1:]


def spaced(key: str) -> str:
    """Return a key as words."""
    return key.replace("-", " ").replace("_", " ")
