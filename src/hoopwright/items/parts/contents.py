"""Sizes from what goes inside."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.core.types import Mm


@dataclass(frozen=True, slots=True)
class Contents:
    """What goes inside, mm: its width, its length from opening to bottom, its thickness."""

    width: Mm
    length: Mm
    thickness: Mm

    def flat_width(self, ease: Mm) -> Mm:
        """Return the width of a flat bag that holds it: width + thickness + ease.

        The inside half girth, once the bag's width, must reach round half the contents: a box of w by t has the half
        girth w + t. Published as W + D + 1/8 in and as W + H + 4 cm (docs/sources.md, bags).
        """
        return self.width + self.thickness + ease

    def back(self, ease: Mm = 0.0) -> Mm:
        """Return the height of a back that ends under a flap: length, half a thickness at the bottom and half at the top."""
        return self.length + self.thickness + ease

    def front(self) -> Mm:
        """Return the height of a front that reaches to the top: length and half a thickness at the bottom."""
        return self.length + self.thickness / 2.0

    def wrapped(self) -> Mm:
        """Return the length of one strip for back, front and a flap as long as the front: 3 lengths + 2 thicknesses.

        Published as 3L + 2D for a pouch of one strip (docs/sources.md, bags).
        """
        return self.back() + 2.0 * self.front()
