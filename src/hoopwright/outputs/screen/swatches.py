"""Swatches for a screen: one seam stitch or one ground, sewn by the same hands as on a panel, drawn as a small SVG picture.

A swatch is ROW long for a seam stitch and PLOT large for a ground, true in proportion. Names are looked up in the tables, colours
must be written "#rrggbb"; nothing else that is asked for gets into the picture.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from shapely.geometry import LineString, box

from hoopwright.catalog.threads import laid_width
from hoopwright.core.colour import channels_of
from hoopwright.core.errors import HoopwrightError
from hoopwright.core.types import Mm
from hoopwright.needle.grounds.drawing import GROUNDS as OWN_MOTIF
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.seam_stitches import SEAM_STITCHES
from hoopwright.needle.sewing import sew
from hoopwright.needle.shapes import Run
from hoopwright.operations.vocabulary import GroundStyle, OrnamentStyle, Role, Stitch
from hoopwright.outputs.pictures.inks import lightness, mix
from hoopwright.project.schema import MachineModel, StitchingModel, Weight

ROW: Final[tuple[Mm, Mm]] = (36.0, 17.0)
"""The cloth shown under a seam stitch: the widest of the table, corded, has room on it."""
PLOT: Final[tuple[Mm, Mm]] = (34.0, 24.0)
"""The cloth shown under a ground: at least one whole cell of every ground at its usual spacing."""
ENDS: Final[Mm] = 2.5
"""Cloth left free beyond both ends of a row."""
FREE: Final[Mm] = 1.0
"""Cloth left free round a ground."""
KEPT: Final = 512
"""Drawings kept, of some kilobytes each."""
SEEDED: Final = frozenset({"meander", "vine"})
"""Grounds whose drawing a seed chooses."""
WEIGHTS: Final[tuple[Weight, ...]] = ("fine", "bold", "corded")


@dataclass(frozen=True, slots=True)
class StitchSwatch:
    """A seam stitch as it is to be shown."""

    name: str
    weight: Weight = "bold"
    mirror: bool = False


@dataclass(frozen=True, slots=True)
class GroundSwatch:
    """A ground as it is to be shown, at its usual spacing."""

    name: str
    seed: int = 1


def catalogue() -> dict[str, list[dict[str, Any]]]:
    """Return every seam stitch and ground as plain data: name, title, description, usual and least measures in mm."""
    return {
        "stitches": [
            {
                "name": s.name,
                "title": s.title,
                "description": s.description,
                "widths": {w: [s.least(w), s.usual(w)] for w in WEIGHTS},
                "sides": s.sides,
            }
            for s in SEAM_STITCHES.values()
        ],
        "grounds": [
            {
                "name": g.name,
                "title": g.title,
                "description": g.description,
                "spacing": [g.least_spacing, g.spacing],
                "angle": g.angle,
                "seeded": g.name in SEEDED,
                "own": any(g is own for own in OWN_MOTIF),
            }
            for g in GROUNDS.values()
        ],
    }


def swatch_svg(swatch: StitchSwatch | GroundSwatch, thread: str, cloth: str) -> bytes:
    """Return a swatch in the colours of a thread and a cloth ("#rrggbb") as SVG.

    Raises HoopwrightError for a name that is in no table, ValueError for a colour written otherwise.
    """
    for colour in (thread, cloth):
        channels_of(colour)
    size = ROW if isinstance(swatch, StitchSwatch) else PLOT
    return _picture(_sewn(swatch), size, thread.lower(), cloth.lower()).encode()


@lru_cache(maxsize=KEPT)
def _sewn(swatch: StitchSwatch | GroundSwatch) -> str:
    """Return the stitches of a swatch as the data of an SVG path, its middle in the middle of the cloth."""
    stitch = _row(swatch) if isinstance(swatch, StitchSwatch) else _plot(swatch)
    runs = sew(stitch, StitchingModel(), MachineModel())
    across = np.concatenate([run.points[:, 1] for run in runs]) if runs else np.zeros(1)
    shift = -float(across.min() + across.max()) / 2.0 if isinstance(swatch, StitchSwatch) else 0.0
    return "".join(_path(run, shift) for run in runs)


def _row(swatch: StitchSwatch) -> Stitch:
    if swatch.name not in SEAM_STITCHES:
        raise HoopwrightError("There is no seam stitch of this name", "Choose one of the list")
    table, half = SEAM_STITCHES[swatch.name], ROW[0] / 2.0 - ENDS
    style = OrnamentStyle(swatch.name, table.usual(swatch.weight), mirror=swatch.mirror, weight=swatch.weight)
    return Stitch(Role.ORNAMENT, table.title, "", (LineString([(-half, 0.0), (half, 0.0)]),), style, "")


def _plot(swatch: GroundSwatch) -> Stitch:
    if swatch.name not in GROUNDS:
        raise HoopwrightError("There is no ground of this name", "Choose one of the list")
    table, (wide, high) = GROUNDS[swatch.name], PLOT
    style = GroundStyle(swatch.name, table.spacing, FREE, None, swatch.seed, StitchingModel().run)
    return Stitch(Role.GROUND, table.title, "", (), style, "", region=box(-wide / 2, -high / 2, wide / 2, high / 2))


def _path(run: Run, shift: Mm) -> str:
    places = [f"{x:.2f} {-(y + shift):.2f}" for x, y in run.points]
    return "M" + "L".join(places)


def _picture(path: str, size: tuple[Mm, Mm], thread: str, cloth: str) -> str:
    """Return cloth with a hint of its weave, and on it each thread with its shade and its light."""
    wide, high = size
    width = laid_width()
    weave, shade, shine = mix(cloth, _other(cloth), 0.04), mix(cloth, "#000000", 0.45), mix(thread, "#ffffff", 0.35)
    line = f'<path d="{path}" fill="none" stroke-linejoin="round" stroke-linecap="round"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-wide / 2:g} {-high / 2:g} {wide:g} {high:g}">'
        '<defs><pattern id="w" width="0.9" height="0.9" patternUnits="userSpaceOnUse">'
        f'<path d="M0 .22H.9M.22 0V.9" stroke="{weave}" stroke-width=".4"/></pattern></defs>'
        f'<rect x="{-wide / 2:g}" y="{-high / 2:g}" width="{wide:g}" height="{high:g}" fill="{cloth}"/>'
        f'<rect x="{-wide / 2:g}" y="{-high / 2:g}" width="{wide:g}" height="{high:g}" fill="url(#w)"/>'
        f'{line} transform="translate(.1 .14)" stroke="{shade}" stroke-opacity=".5" stroke-width="{width:.2f}"/>'
        f'{line} stroke="{thread}" stroke-width="{width:.2f}"/>'
        f'{line} transform="translate(-.04 -.06)" stroke="{shine}" stroke-opacity=".7" stroke-width="{width * 0.28:.2f}"/>'
        "</svg>"
    )


def _other(cloth: str) -> str:
    """Return black for a light cloth, white for a dark one."""
    return "#000000" if lightness(cloth) > 0.35 else "#ffffff"
