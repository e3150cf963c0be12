"""The cloths of a bag: a quilted back, a lining, a stiffener, perhaps a pocket and a strap."""

from __future__ import annotations

from typing import Protocol

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.parts.cloths import ClothWish, cloth_findings, first_of
from hoopwright.project.schema import Project


class BagCloths(Protocol):
    """The settings of a bag that name its cloths."""

    @property
    def stiffened(self) -> bool:
        """Whether it has a stiffener."""

    @property
    def outer(self) -> str | None:
        """Key of the back's cloth."""

    @property
    def lining(self) -> str | None:
        """Key of the lining's cloth."""

    @property
    def pocket_cloth(self) -> str | None:
        """Key of the pocket's cloth."""

    @property
    def strap_cloth(self) -> str | None:
        """Key of the strap's cloth."""

    @property
    def stiffener(self) -> str | None:
        """Key of the stiffener."""


def stiffener_cloth(settings: BagCloths, project: Project) -> str | None:
    """Return the key of the stiffener, None for a soft bag or a project without one."""
    if not settings.stiffened:
        return None
    return settings.stiffener if settings.stiffener in project.cloths else first_of(project, "stiffener")


def bag_cloth_findings(
    settings: BagCloths, project: Project, *, pocket: bool, strap: bool, soft: str, what: str
) -> tuple[Finding, ...]:
    """Return what is to be said about the cloths of a bag.

    ``pocket`` and ``strap`` say whether it has them. A stiffened bag in a project without a stiffener gets a note of
    code ``soft``: ``what`` ("the pouch") becomes soft.
    """
    wishes = [
        ClothWish("outer", "back", settings.outer, "cloth"),
        ClothWish("lining", "lining", settings.lining, "lining"),
    ]
    if pocket:
        wishes.append(ClothWish("pocket_cloth", "pocket", settings.pocket_cloth, "cloth"))
    if strap:
        wishes.append(ClothWish("strap_cloth", "strap", settings.strap_cloth, "ribbon"))
    stiff = stiffener_cloth(settings, project)
    if settings.stiffened and (stiff or settings.stiffener):
        wishes.append(ClothWish("stiffener", "stiffener", settings.stiffener, "stiffener"))
    becomes_soft = settings.stiffened and not stiff
    return (*cloth_findings(project, wishes), *((_soft(soft, what),) if becomes_soft else ()))


def _soft(code: str, what: str) -> Finding:
    return Finding(
        code,
        Severity.NOTES,
        f"The project has no stiffener, so {what} becomes soft",
        'Add a cloth of the kind "stiffener", or write stiffened = false below [make]',
        Where(path="make.stiffened"),
    )
