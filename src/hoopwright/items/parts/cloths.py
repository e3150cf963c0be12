"""Which cloth is taken for what: the one the maker names, else the first that suits."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.core.words import listed, quoted
from hoopwright.project.schema import Project

Kind: TypeAlias = Literal["cloth", "lining", "stiffener", "ribbon", "zip"]

FITTING: Final[dict[Kind, tuple[Kind, ...]]] = {
    "cloth": ("cloth", "lining"),
    "lining": ("lining", "cloth"),
    "stiffener": ("stiffener",),
    "ribbon": ("ribbon", "cloth"),
    "zip": ("zip",),
}
"""Which kinds of cloth do where one is wished, the best first: a strap is cut from ribbon or from a folded strip of cloth."""


@dataclass(frozen=True, slots=True)
class ClothWish:
    """A setting that names a cloth: ``setting`` below [make], what it is ``use``d for, the key ``wanted``, the fitting kind."""

    setting: str
    use: str
    wanted: str | None
    kind: Kind


def first_of(project: Project, kind: Kind) -> str | None:
    """Return the key of the project's first cloth of a kind, None when there is none."""
    return next((key for key, cloth in project.cloths.items() if cloth.kind == kind), None)


def chosen_cloth(project: Project, wanted: str | None, kind: Kind) -> str:
    """Return the key of the cloth to take: the wanted one if the project has it, else the first of the kind, else the first."""
    if wanted in project.cloths:
        return str(wanted)
    return first_of(project, kind) or next(iter(project.cloths))


def cloth_findings(project: Project, wishes: Iterable[ClothWish]) -> tuple[Finding, ...]:
    """Return what is to be said about the cloths of these settings.

    HW411 (blocks) for every cloth the project does not have, HW415 (blocks) for one of a kind that does not do there, and one
    HW412 (notes) for those that were left out.
    """
    rows = tuple(wishes)
    unknown = tuple(_unknown(project, w) for w in rows if w.wanted is not None and w.wanted not in project.cloths)
    left_out = tuple(w for w in rows if w.wanted is None)
    unfit = tuple(_wrong_kind(project, w) for w in rows if not _fits(project, w))
    return (*unknown, *unfit, *((_chosen(project, left_out),) if left_out else ()))


def _fits(project: Project, wish: ClothWish) -> bool:
    cloth = project.cloths.get(wish.wanted or "")
    return cloth is None or cloth.kind in FITTING[wish.kind]


def _wrong_kind(project: Project, wish: ClothWish) -> Finding:
    kind = project.cloths[wish.wanted or ""].kind
    return Finding(
        "HW415",
        Severity.BLOCKS,
        f'"{wish.wanted}" is of the kind "{kind}", which does not do for the {wish.use}',
        _that_do(project, wish.kind),
        Where(path=f"make.{wish.setting}"),
    )


def fitting(project: Project, kind: Kind) -> tuple[str, ...]:
    """Return the keys of the cloths that do where one of this kind is wished, the best first."""
    return tuple(key for fit in FITTING[kind] for key, cloth in project.cloths.items() if cloth.kind == fit)


def _that_do(project: Project, kind: Kind) -> str:
    keys = fitting(project, kind)
    if not keys:
        return f'Add a cloth of the kind "{kind}"'
    return f"{'Cloths that do' if len(keys) > 1 else 'The cloth that does'}: {', '.join(quoted(keys))}"


def _unknown(project: Project, wish: ClothWish) -> Finding:
    near = difflib.get_close_matches(wish.wanted or "", fitting(project, wish.kind), n=1)
    first = f'Did you mean "{near[0]}"? ' if near else ""
    return Finding(
        "HW411",
        Severity.BLOCKS,
        f'There is no cloth "{wish.wanted}" for the {wish.use}',
        f"{first}{_that_do(project, wish.kind)}",
        Where(path=f"make.{wish.setting}"),
    )


def _chosen(project: Project, wishes: tuple[ClothWish, ...]) -> Finding:
    taken = listed(tuple(f"{_name(project, w)} for the {w.use}{_unfit(project, w)}" for w in wishes))
    settings = listed(quoted(w.setting for w in wishes))
    return Finding(
        "HW412",
        Severity.NOTES,
        f"No cloth is named for some parts, so these were taken: {taken}",
        f"If you want others, name them below [make] ({settings})",
        Where(path="make"),
    )


def _name(project: Project, wish: ClothWish) -> str:
    return project.cloths[chosen_cloth(project, None, wish.kind)].name


def _unfit(project: Project, wish: ClothWish) -> str:
    return "" if first_of(project, wish.kind) else f" (there is no cloth of the kind {wish.kind})"
