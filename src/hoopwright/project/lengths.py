"""Lengths as makers write and read them: millimetres inside, "108 mm", "10.8 cm" or "4 1/4 in" outside.

Written lengths: a plain number is millimetres; text carries its unit (mm, cm, m, in, inch, inches or an inch mark).
One inch is 25.4 mm exactly (international yard and pound agreement of 1959).
"""

from __future__ import annotations

import math
import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from hoopwright.core.tolerances import FLAT
from hoopwright.core.types import Mm

Units: TypeAlias = Literal["mm", "in"]
"""How results are shown."""

INCH: Final = 25.4
"""Millimetres in an inch."""

LARGEST: Final = 10_000.0
"""No length of a project is larger than this (10 m): a larger number is a slip of the pen."""

_UNITS: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH, "inch": INCH, "inches": INCH, '"': INCH}
_TYPOGRAPHY: Final = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "\u2044": "/", "\u2212": "-", "\u2013": "-", "\u2019": "'", "\u2032": "'"}
    | {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
_SHAPE: Final = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)|(?P<number>[0-9]+\.?[0-9]*|\.[0-9]+))"
    r"\s*(?P<unit>[^0-9\s.]*)\.?"
)
_HELP: Final = (
    'Write a number of millimetres such as 108, or text with a unit such as "108 mm", "10.8 cm" or "4 1/4 in"'
)
_LONGEST_TEXT: Final = 60
_SHOWN: Final = 1e12


class LengthError(ValueError):
    """A length cannot be read; ``message`` says why, ``cure`` what to write instead."""

    def __init__(self, message: str, cure: str = _HELP) -> None:
        super().__init__(message)
        self.message = message
        self.cure = cure


def read_length(value: object) -> Mm:
    """Return a written length in mm. Raises LengthError (a ValueError) with a cure when it is not one."""
    if isinstance(value, bool):
        raise LengthError(f"{'true' if value else 'false'} is not a length")
    if isinstance(value, str):
        return _bounded(_read_text(value), repr(value))
    if isinstance(value, int | float):
        return _bounded(value, f"{value:g}" if abs(value) < _SHOWN else "this number")
    raise LengthError("this is not a length")


def _bounded(value: int | float, shown: str) -> Mm:
    """Return ``value`` as a float if it is finite and no larger than LARGEST either way."""
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(
            "this is not a number that can be measured", "Write a plain number of millimetres such as 108"
        )
    if abs(value) > LARGEST:
        raise LengthError(
            f"{shown} is more than 10 metres", "Check the number and its unit; a plain number is millimetres"
        )
    return float(value)


def _read_text(text: str) -> float:
    """Return the mm meant by ``text``, not yet bounded."""
    plain = " ".join(text.translate(_TYPOGRAPHY).split()).replace("''", '"')
    if not plain:
        raise LengthError("the text is empty where a length should stand")
    if len(plain) > _LONGEST_TEXT:
        raise LengthError(f"a text of {len(text)} characters is not a length")
    if "," in plain:
        cure = f'Write decimals with a point: "{plain.replace(",", ".")}"' if plain.count(",") == 1 else _HELP
        raise LengthError(f"{text!r} has a comma in it", cure)
    match = _SHAPE.fullmatch(plain)
    if match is None:
        raise LengthError(f"{text!r} is not a length")
    return _amount(match, text) * _unit(match, text, plain)


def _amount(match: re.Match[str], text: str) -> float:
    """Return the number of a matched length, sign included."""
    sign = -1.0 if match["sign"] == "-" else 1.0
    if match["number"]:
        return sign * float(match["number"])
    if int(match["under"]) == 0:
        raise LengthError(f"{text!r} divides by nought", 'Write the fraction as in "4 1/4 in"')
    return sign * float(int(match["whole"] or 0) + Fraction(int(match["over"]), int(match["under"])))


def _unit(match: re.Match[str], text: str, plain: str) -> float:
    """Return the mm in the unit of a matched length; no unit is mm, but a fraction must name its unit."""
    unit = match["unit"].lower()
    if not unit and match["over"]:
        raise LengthError(f"{text!r} is a fraction without a unit", f'Say which unit is meant, as in "{plain} in"')
    if not unit:
        return 1.0
    if unit not in _UNITS:
        raise LengthError(f"{text!r} has the unit {match['unit']!r}, which is not known here", "Use mm, cm, m or in")
    return _UNITS[unit]


def show_length(mm: Mm, units: Units) -> str:
    """Return ``mm`` for reading: to a tenth of a millimetre, or in inches to the nearest sixteenth ("4 1/4 in")."""
    return f"{_show_number(mm, units)} {units}"


def show_measure(mm: Mm, units: Units) -> str:
    """Return a small length without hiding it in a fraction: "1.5 mm", for inches "1.5 mm (1/16 in)"."""
    exact = f"{round(mm, 2):g} mm"
    told = show_length(mm, units)
    return exact if units == "mm" or told == "0 in" else f"{exact} ({told})"


def show_apart(first: Mm, second: Mm, units: Units) -> tuple[str, str]:
    """Return two lengths that are compared, in mm with more decimals where rounding would make them look the same."""
    pair = show_length(first, units), show_length(second, units)
    for digits in (1, 2, 3, 4):
        if pair[0] != pair[1]:
            break
        pair = f"{round(first, digits):g} mm", f"{round(second, digits):g} mm"
    return pair


def rounded_up(mm: Mm, units: Units) -> Mm:
    """Return ``mm`` up to the next tenth of a millimetre or sixteenth of an inch, as ``show_length`` shows it."""
    mark = INCH / 16 if units == "in" else 0.1
    return round(math.ceil((mm - FLAT) / mark) * mark, 6)


def show_size(width: Mm, height: Mm, units: Units) -> str:
    """Return a size for reading, width first: "108 × 130 mm" or "4 1/4 × 5 1/8 in"."""
    return f"{_show_number(width, units)} × {_show_number(height, units)} {units}"


def _show_number(mm: Mm, units: Units) -> str:
    if not math.isfinite(mm):
        raise ValueError(f"a length must be a finite number, not {mm}")
    return _show_inches(mm / INCH) if units == "in" else _show_tenths(mm)


def _show_tenths(mm: Mm) -> str:
    """Return mm rounded half up, as handwork does, to a tenth, without an empty decimal."""
    tenths = Decimal(repr(float(mm))).quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
    text = f"{tenths:f}".removesuffix(".0")
    return "0" if text == "-0" else text


def _show_inches(inches: float) -> str:
    """Return inches as a whole number and a proper fraction in lowest terms, to the nearest sixteenth."""
    sixteenths = math.floor(abs(inches) * 16 + 0.5)
    sign = "-" if inches < 0 and sixteenths else ""
    whole, rest = divmod(sixteenths, 16)
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, 16)
    proper = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole} {proper}" if whole else f"{sign}{proper}"
