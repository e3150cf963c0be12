"""The one table of tolerances, named by purpose. No literal epsilon stands anywhere else.

All are millimetres unless the name says otherwise.
"""

from typing import Final

MERGE: Final = 1e-3
"""Two places nearer than this are one vertex of a patch map."""

GRID: Final = 1e-4
"""Grid on which line work is noded; finer than MERGE, far coarser than rounding noise (sliver faces vanish)."""

STRAIGHT_DEGREES: Final = 0.05
"""Two edges whose directions differ by less run on in one line."""

FLAT: Final = 0.01
"""A row of vertices that leaves its chord by less is straight."""

COVER: Final = 0.01
"""Cloth that falls short by less than this still covers."""

COVER_AREA: Final = 0.01
"""Uncovered area in mm2 below which nothing shows."""

MACHINE_STEP: Final = 0.1
"""One step of the common stitch files."""

SAME_PLACE: Final = 1e-6
"""Two stitch positions nearer than this are one needle hole."""

ARC_CHORD: Final = 0.02
"""A round edge is drawn as short chords that leave the true curve by at most this."""

CUT_REACH: Final = 2.0
"""An end of a cut that misses the edge of its piece by up to this is moved onto the edge."""

SLIVER: Final = 0.5
"""A face narrower than this on average (twice its area over its perimeter) is a sliver."""

LEAST_OUTLINE_AREA: Final = 1.0
"""An outline of less area (mm2) is no outline."""

BEHIND: Final = 0.1
"""A patch that reaches over its seam line by less lies on one side of it (a machine step; long seams may bend a little)."""

STRAIGHTENED_DEGREES: Final = 15.0
"""Lines that meet end to end and bend by less, and by no more than the gap that is healed, are meant as one line."""

CORNER_DEGREES: Final = 20.0
"""A boundary that turns by this much at a point has a corner there; by less, it only follows a curve."""

SCRAP: Final = 1e-6
"""A piece of cloth of less area (mm2) is rounding, not cloth."""

ON_SEAM: Final = 0.05
"""Stitches within this of the seam line lie on it (half a machine step)."""

DIGITS: Final = 9
"""Decimals of a millimetre that are kept of computed places. What lies beyond is noise of rounding, in which places would differ
that a change elsewhere leaves alone."""
