"""Variants that must not pass, as data: what is done wrong, in which example, and the finding that says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import shapely
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon, box

from hoopwright.items.plan import Plan
from hoopwright.operations.vocabulary import Close, Face, Fold, Lay, Open, Operation, Press, Stitch, Turn
from tests.cloth.spoiling import (
    Spoil,
    after_block,
    assembled,
    both,
    changed,
    closed_but,
    cut,
    earlier,
    faced,
    laid,
    later,
    left_out,
    mirrored,
    moved,
    opened_at,
    sewn,
    shrunk,
    sound,
    stretched,
    thicker,
    upside_down,
)


@dataclass(frozen=True, slots=True)
class Variant:
    """``title`` says what is wrong, ``example`` which project is spoilt, ``code`` the finding that must say so."""

    title: str
    example: str
    spoil: Spoil
    code: str


POUCH, SLEEVE, ZIP, PURSE = "quay-pouch", "reading-sleeve", "ferry-zip-pouch", "lockkeeper-purse"
MAT, MARK, TAB = "tide-mat", "reed-bookmark", "sluice-key-tab"


@cache
def area(example: str, key: str) -> Polygon:
    """Return the area inside the seams of a hooping."""
    shape = next(look.area for look in sound(example).making.looks if look.hooping == key)
    assert isinstance(shape, Polygon)
    return shape


def ring(example: str, key: str) -> LineString:
    """Return the closing seam without its opening."""
    return LineString(area(example, key).exterior.coords)


def piece(example: str, key: str) -> Polygon:
    """Return a piece as it is cut."""
    return next(p.cut for p in sound(example).making.pieces if p.key == key)


def opening(example: str) -> LineString:
    """Return the line of the first opening."""
    return next(h.line for h in sound(example).making.assembly if isinstance(h, Turn))


LOW, HIGH = area(POUCH, "pouch").bounds[1::2]
HALF = area(POUCH, "pouch").bounds[2]
HINGE = piece(POUCH, "outer").bounds[3] - 6.35
RIM = piece(SLEEVE, "back").bounds[3] - 6.35


def unfolded(key: str, *sheets: str) -> Spoil:
    """Hems are not folded in."""
    return changed(key, lambda o: () if isinstance(o, Fold) and o.pieces[0] in sheets else o)


def raised_pocket(o: Lay) -> Lay:
    """The pocket is cut so high that its fold lies 3 mm below the seam of the flap."""
    left, low, right, _ = o.pose.bounds
    fold = HINGE - 3.0
    return replace(o, pose=box(left, low, right, 2 * fold - low), fold=((left, fold), (right, fold)))


def raised_front(o: Lay) -> Lay:
    """The front wall is shifted up until its finished edge lies in the upper seam."""
    assert o.fold is not None
    up = RIM - o.fold[0][1]
    fold = tuple((x, y + up) for x, y in o.fold)
    return replace(o, pose=translate(o.pose, 0.0, up), fold=(fold[0], fold[1]))


def long_ribbon(o: Lay) -> Lay:
    """The ribbon reaches past the lower seam."""
    left, _, right, high = o.pose.bounds
    return replace(o, pose=box(left, -90.0, right, high))


def in_two(stitch: Stitch) -> tuple[Operation, ...]:
    """The seam is parted into two blocks without a halt between."""
    (path,) = stitch.paths
    half = path.length / 2
    parts = (shapely.ops.substring(path, 0, half), shapely.ops.substring(path, half, path.length))
    return tuple(replace(stitch, paths=(LineString(p.coords),), catches=()) for p in parts)


def right_round(example: str, key: str) -> Spoil:
    """The closing seam leaves no gap."""
    return closed_but(key, ring(example, key))


def pressed_first(stitch: Stitch) -> tuple[Operation, ...]:
    """A halt only to press."""
    return (Press("all", "Press."), stitch)


def second_gap(made: Plan) -> Plan:
    """A second gap in the seam that nobody closes."""
    gap = LineString([(HALF, LOW + 20.0), (HALF, LOW + 50.0)])
    return closed_but("pouch", ring(POUCH, "pouch"), opening(POUCH), gap)(made)


def satin_outside(stitch: Stitch) -> Stitch:
    """The satin is sewn 4 mm outside its line."""
    paths = tuple(LineString(Polygon(p.coords).buffer(4.0, join_style="mitre").exterior.coords) for p in stitch.paths)
    return replace(stitch, paths=paths)


VARIANTS: Sequence[Variant] = (
    Variant("pocket laid upside down", POUCH, upside_down("pouch", "pocket"), "HW556"),
    Variant("pocket laid inside out", POUCH, faced("pouch", "pocket", Face.UP), "HW555"),
    Variant("pocket's fold above its limit", POUCH, laid("pouch", "pocket", raised_pocket), "HW569"),
    Variant("pocket laid too high for its line", POUCH, moved("pouch", "pocket", 0.0, 12.0), "HW540"),
    Variant("strap lying across the closing seam", POUCH, left_out("pouch", Fold), "HW567"),
    Variant("strap laid with its loop outwards", POUCH, mirrored("pouch", "strap", HALF), "HW558"),
    Variant("strap laid after the pocket", POUCH, after_block("pouch", "strap", "Bottom line"), "HW558"),
    Variant("lining right side up", POUCH, faced("pouch", "lining", Face.UP), "HW555"),
    Variant("lining missing", POUCH, left_out("pouch", Lay, "lining"), "HW541"),
    Variant("lining laid 9 mm to one side", POUCH, moved("pouch", "lining", 9.0, 0.0), "HW540"),
    Variant("lining laid 4 mm to one side", POUCH, moved("pouch", "lining", 4.0, 0.0), "HW544"),
    Variant(
        "opening of 20 mm for a stiff body",
        POUCH,
        opened_at("pouch", area(POUCH, "pouch"), (0.0, LOW), 20.0, "pocket"),
        "HW551",
    ),
    Variant("opening on a curve", POUCH, opened_at("pouch", area(POUCH, "pouch"), (HALF, HIGH), 45.0, "flap"), "HW552"),
    Variant("shell and lining sewn right round", POUCH, right_round(POUCH, "pouch"), "HW550"),
    Variant(
        "sewn right round, and no turning told",
        POUCH,
        both(right_round(POUCH, "pouch"), assembled(lambda h: None if isinstance(h, Turn | Close) else h)),
        "HW573",
    ),
    Variant("a second gap", POUCH, second_gap, "HW571"),
    Variant("opening never closed", POUCH, assembled(lambda h: None if isinstance(h, Close) else h), "HW572"),
    Variant("flap 2 mm too wide", POUCH, stretched("pouch", "flap", 2.0), "HW545"),
    Variant("flap 2 mm too narrow", POUCH, stretched("pouch", "flap", -2.0), "HW545"),
    Variant("a halt lost before the seam of the flap", POUCH, later("pouch", "flap"), "HW541"),
    Variant("stiffener under the seam", POUCH, moved("pouch", "stiffener-body", 4.0, 0.0), "HW565"),
    Variant("stiffener caught", POUCH, moved("pouch", "stiffener-body", 4.0, 0.0), "HW542"),
    Variant("stiffener hardly clear of the seam", POUCH, moved("pouch", "stiffener-body", 1.0, 0.0), "HW543"),
    Variant("stiffener larger than the hoop", POUCH, stretched("pouch", "stiffener-body", 80.0), "HW566"),
    Variant("lining as thick as felt", POUCH, thicker("sailcloth", 4.0), "HW564"),
    Variant("lining as thick as a blanket", POUCH, thicker("sailcloth", 2.0), "HW563"),
    Variant("a halt only to press", POUCH, sewn("pouch", "Ground", pressed_first), "HW547"),
    Variant("front wall right side up", SLEEVE, faced("sleeve", "front", Face.UP), "HW555"),
    Variant("finished edge caught in the top seam", SLEEVE, laid("sleeve", "front", raised_front), "HW568"),
    Variant("back laid right side down", SLEEVE, faced("sleeve", "back", Face.DOWN), "HW555"),
    Variant("front lining right side up", SLEEVE, faced("front", "front-lining", Face.UP), "HW555"),
    Variant("zip left closed", ZIP, left_out("pouch", Open), "HW553"),
    Variant("lining under the hoop with the wrong face", ZIP, faced("pouch", "front-lining-lower", Face.DOWN), "HW559"),
    Variant("lining under the hoop laid a block too early", ZIP, earlier("pouch", "lining-lower"), "HW570"),
    Variant("back lining not folded in", ZIP, unfolded("pouch", "lining-lower", "lining-upper"), "HW560"),
    Variant("tab inside out", ZIP, faced("pouch", "strap", Face.UP), "HW555"),
    Variant("back of the zip pouch right side up", ZIP, faced("pouch", "back", Face.UP), "HW555"),
    Variant(
        "foundation left behind the zip",
        ZIP,
        both(
            cut("pouch", lambda t: t.piece != "all"),
            assembled(lambda h: None if getattr(h, "piece", "") == "tear-away stabilizer" else h),
        ),
        "HW557",
    ),
    Variant("back cut without allowance", PURSE, shrunk("shell", "back", 6.35), "HW544"),
    Variant("patch cut without allowance", POUCH, shrunk("flap", "B", 6.35), "HW515"),
    Variant("lining front right side down", PURSE, faced("lining", "lining-front", Face.DOWN), "HW555"),
    Variant("back of the mat right side up", MAT, faced("mat", "back-lower", Face.UP), "HW555"),
    Variant("envelope backs not overlapping", MAT, moved("mat", "back-upper", 0.0, 40.0), "HW557"),
    Variant("a seam in two blocks", MAT, sewn("mat", "Closing seam", in_two), "HW548"),
    Variant("back of the mat too small on one side", MAT, moved("mat", "back-lower", 12.0, 0.0), "HW546"),
    Variant("ribbon too long inside", MARK, laid("bookmark", "ribbon-1", long_ribbon), "HW567"),
    Variant("satin beside the cut edge", TAB, sewn("key-tab", "Satin edge", satin_outside), "HW561"),
)
