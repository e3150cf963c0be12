"""Swatches for a screen: a seam stitch, a ground or an accent, sewn by the same hands as on a panel, drawn as a small SVG picture.

A swatch is ROW long for a seam stitch, PLOT large for a ground and PATCH large for an accent, true in proportion. A seam stitch that is
to be a second row is shown over its first. Names are looked up in the tables, colours
must be written "#rrggbb"; nothing else that is asked for gets into the picture.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Final, TypeAlias

import numpy as np
from shapely.geometry import LineString, box

from hoopwright.catalog.threads import laid_width
from hoopwright.core.colour import channels_of
from hoopwright.core.errors import HoopwrightError
from hoopwright.core.types import Mm, Points
from hoopwright.needle.accents.sew import sewn_accent
from hoopwright.needle.accents.shapes import AccentWish
from hoopwright.needle.accents.table import MOTIFS
from hoopwright.needle.accents.wishes import least_size
from hoopwright.needle.grounds.drawing import GROUNDS as OWN_MOTIF
from hoopwright.needle.grounds.table import GROUNDS
from hoopwright.needle.ornaments import row_over_width
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
PATCH: Final[tuple[Mm, Mm]] = (60.0, 60.0)
"""The cloth shown under an accent."""
SHOWN: Final[Mm] = 52.0
"""The size of an accent on it; it is drawn smaller when it needs more room for its lobes."""
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
    """A seam stitch as it is to be shown; ``under`` is the row over which it is sewn."""

    name: str
    weight: Weight = "bold"
    mirror: bool = False
    under: StitchSwatch | None = None


@dataclass(frozen=True, slots=True)
class GroundSwatch:
    """A ground as it is to be shown, at its usual spacing; ``motif`` is the maker's own, for the grounds that repeat one."""

    name: str
    seed: int = 1
    motif: tuple[LineString, ...] = ()


@dataclass(frozen=True, slots=True)
class AccentSwatch:
    """An accent as it is to be shown; see hoopwright.needle.accents.shapes.AccentWish."""

    name: str
    lobes: int | None = None
    fullness: float = 0.5
    seed: int = 0


Swatch: TypeAlias = StitchSwatch | GroundSwatch | AccentSwatch


def catalogue() -> dict[str, list[dict[str, Any]]]:
    """Return every seam stitch, ground and motif as plain data: name, title, description, usual and least measures in mm."""
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
        "motifs": [
            {
                "name": m.name,
                "title": m.title,
                "description": m.description,
                "lobes": m.lobes,
                "size": [m.least, m.most],
            }
            for m in MOTIFS.values()
        ],
    }


def swatch_svg(swatch: Swatch, thread: str, cloth: str, below: str | None = None) -> bytes:
    """Return a swatch in the colours of a thread and a cloth ("#rrggbb") as SVG; ``below`` is the thread of the row under it.

    Raises HoopwrightError for a name that is in no table, ValueError for a colour written otherwise.
    """
    colours = thread, cloth, *(() if below is None else (below,))
    for colour in colours:
        channels_of(colour)
    size = {StitchSwatch: ROW, GroundSwatch: PLOT, AccentSwatch: PATCH}[type(swatch)]
    rows = [(_sewn(swatch), thread.lower())]
    if isinstance(swatch, StitchSwatch) and swatch.under is not None:
        rows.insert(0, (_sewn(swatch.under), (below or thread).lower()))
    return _picture(rows, size, cloth.lower()).encode()


@lru_cache(maxsize=KEPT)
def _sewn(swatch: Swatch) -> str:
    """Return the stitches of a swatch as the data of an SVG path, its middle in the middle of the cloth."""
    if isinstance(swatch, AccentSwatch):
        return _path(_accent(swatch), 0.0)
    if isinstance(swatch, GroundSwatch):
        return "".join(_path(run.points, 0.0) for run in sew(_plot(swatch), StitchingModel(), MachineModel()))
    shift = _shift(swatch.under or swatch)
    return "".join(_path(run.points, shift) for run in _runs(swatch))


@lru_cache(maxsize=KEPT)
def _runs(swatch: StitchSwatch) -> tuple[Run, ...]:
    return sew(_row(swatch), StitchingModel(), MachineModel())


def _shift(swatch: StitchSwatch) -> Mm:
    """Return by how much the middle of a row lies above its seam."""
    runs = _runs(swatch)
    across = np.concatenate([run.points[:, 1] for run in runs]) if runs else np.zeros(1)
    return -float(across.min() + across.max()) / 2.0


def _row(swatch: StitchSwatch) -> Stitch:
    half, style = ROW[0] / 2.0 - ENDS, _style(swatch)
    title = SEAM_STITCHES[swatch.name].title
    return Stitch(Role.ORNAMENT, title, "", (LineString([(-half, 0.0), (half, 0.0)]),), style, "")


def _style(swatch: StitchSwatch) -> OrnamentStyle:
    if swatch.name not in SEAM_STITCHES:
        raise HoopwrightError("There is no seam stitch of this name", "Choose one of the list")
    table = SEAM_STITCHES[swatch.name]
    under = None if swatch.under is None else _style(swatch.under)
    usual = table.usual(swatch.weight)
    width = usual if under is None else row_over_width(table, swatch.weight, under.width)
    return OrnamentStyle(swatch.name, width, mirror=swatch.mirror, weight=swatch.weight, under=under)


def _plot(swatch: GroundSwatch) -> Stitch:
    if swatch.name not in GROUNDS:
        raise HoopwrightError("There is no ground of this name", "Choose one of the list")
    table, (wide, high) = GROUNDS[swatch.name], PLOT
    length = StitchingModel().run
    style = GroundStyle(swatch.name, table.spacing, FREE, None, swatch.seed, length, motif=swatch.motif)
    return Stitch(Role.GROUND, table.title, "", (), style, "", region=box(-wide / 2, -high / 2, wide / 2, high / 2))


def _accent(swatch: AccentSwatch) -> Points:
    if swatch.name not in MOTIFS:
        raise HoopwrightError("There is no motif of this name", "Choose one of the list")
    low, _, high = MOTIFS[swatch.name].lobes
    lobes = None if swatch.lobes is None else min(max(swatch.lobes, low), high)
    wish = AccentWish(swatch.name, SHOWN, lobes, swatch.fullness, swatch.seed)
    size = max(SHOWN, least_size(wish))
    return sewn_accent(replace(wish, size=size)).points * (SHOWN / size)


def _path(points: Points, shift: Mm) -> str:
    return "M" + "L".join(f"{x:.2f} {-(y + shift):.2f}" for x, y in points)


def _picture(rows: Sequence[tuple[str, str]], size: tuple[Mm, Mm], cloth: str) -> str:
    """Return cloth with a hint of its weave, and on it each row (path, thread) with its shade and its light."""
    wide, high = size
    weave, shade = mix(cloth, _other(cloth), 0.04), mix(cloth, "#000000", 0.45)
    place = f'x="{-wide / 2:g}" y="{-high / 2:g}" width="{wide:g}" height="{high:g}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{-wide / 2:g} {-high / 2:g} {wide:g} {high:g}">'
        '<defs><pattern id="w" width="0.9" height="0.9" patternUnits="userSpaceOnUse">'
        f'<path d="M0 .22H.9M.22 0V.9" stroke="{weave}" stroke-width=".4"/></pattern></defs>'
        f'<rect {place} fill="{cloth}"/><rect {place} fill="url(#w)"/>'
        f"{''.join(_threads(path, thread, shade) for path, thread in rows)}</svg>"
    )


def _threads(path: str, thread: str, shade: str) -> str:
    width, shine = laid_width(), mix(thread, "#ffffff", 0.35)
    line = f'<path d="{path}" fill="none" stroke-linejoin="round" stroke-linecap="round"'
    return (
        f'{line} transform="translate(.1 .14)" stroke="{shade}" stroke-opacity=".5" stroke-width="{width:.2f}"/>'
        f'{line} stroke="{thread}" stroke-width="{width:.2f}"/>'
        f'{line} transform="translate(-.04 -.06)" stroke="{shine}" stroke-opacity=".7" stroke-width="{width * 0.28:.2f}"/>'
    )


def _other(cloth: str) -> str:
    """Return black for a light cloth, white for a dark one."""
    return "#000000" if lightness(cloth) > 0.35 else "#ffffff"
