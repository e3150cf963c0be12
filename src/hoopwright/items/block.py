"""Block: a pieced square or rectangle with its allowance; many of them make a quilt.

Nothing decorative is sewn in the allowance, so that the joins between blocks stay flat; the seam stitches end inside the
finished size.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from hoopwright.core.findings import Finding, Severity, Where
from hoopwright.items.parts.rounding import rounded_down
from hoopwright.items.pieced import pieced_hoopings, pieced_promise
from hoopwright.items.recipe import Making, Recipe, Wanted, Workshop
from hoopwright.operations.vocabulary import Press
from hoopwright.project.fields import field_of
from hoopwright.project.lengths import show_length, show_size
from hoopwright.project.schema import Length, Model, Project, RectangleOutline

KEY = "block"


class BlockSettings(Model):
    """Finished size of the block (without allowance)."""

    width: Annotated[Length, Field(gt=0, le=400)] = 101.6
    height: Annotated[Length, Field(gt=0, le=400)] = 101.6


def _wanted(settings: BlockSettings, project: Project) -> tuple[Wanted, ...]:
    outline = RectangleOutline(shape="rectangle", width=settings.width, height=settings.height)
    return (Wanted(KEY, project.title, outline),)


def _refuse(settings: BlockSettings, project: Project) -> tuple[Finding, ...]:
    field, margin = field_of(project.hoop), project.hoop.margin
    reach = 2 * (margin + project.stitching.tack_outside)
    found = []
    for side, size, room in (("width", settings.width, field[0]), ("height", settings.height, field[1])):
        if size + reach > room:
            most = show_length(rounded_down(room - reach, project.units), project.units)
            found.append(
                Finding(
                    "HW410",
                    Severity.BLOCKS,
                    f"A block of {show_size(settings.width, settings.height, project.units)} does not fit the hoop",
                    f"Make the {side} at most {most}, or choose a larger field",
                    Where(path=f"make.{side}"),
                )
            )
    return tuple(found)


def _make(shop: Workshop) -> Making:
    settings: BlockSettings = shop.settings
    size = show_size(settings.width, settings.height, shop.project.units)
    allowance = shop.length(shop.project.piecing.allowance)
    press = Press(
        KEY,
        f"Press the block face down on a towel and measure it: {size} between the seam lines, {allowance} more all round. "
        "Blocks of one quilt must measure the same.",
    )
    return Making(
        pieced_hoopings(shop, KEY, shop.project.title),
        assembly=(press,),
        care=(
            "Join blocks along their sewn outlines, right sides together, and press the allowances apart.",
            "Tear the stabilizer away when the block is joined on all sides; until then it keeps the edges straight.",
        ),
        promise=pieced_promise(KEY),
    )


BLOCK = Recipe(
    name="block",
    title="Block",
    summary="A pieced square or rectangle with its allowance, many of which make a quilt.",
    settings=BlockSettings,
    make=_make,
    wanted=_wanted,
    refuse=_refuse,
)
