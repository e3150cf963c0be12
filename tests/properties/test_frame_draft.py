"""Any frame and body that can be drafted keeps the promises of the draft."""

from __future__ import annotations

import math
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from hoopwright.core.errors import GeometryError
from hoopwright.core.tolerances import MERGE
from hoopwright.items.parts.frame_draft import BodyShape, FrameShape, bow, draft, lining_body, widest_flare

SIZES = st.floats(20, 200)


@st.composite
def frames(draw: st.DrawFn) -> FrameShape:
    width, arm = draw(st.floats(30, 300)), draw(st.floats(8, 150))
    if draw(st.booleans()):
        return bow(width, arm)
    return FrameShape(width, arm, draw(st.floats(0, 1)) * min(width / 2, arm))


@given(frames(), st.floats(0, 1), st.floats(0, 10), SIZES, st.floats(0, 0.5), st.floats(0, 80), st.booleans())
def test_edge_hinges_seam_and_lining(
    frame: FrameShape, share: float, ease: float, depth: float, lean: float, corner: float, boxed: bool
) -> None:
    flare = share * min(40.0, widest_flare(frame, ease))
    spread = min(60.0, lean * depth)
    body = BodyShape(depth, spread, 0.0, corner) if boxed else BodyShape(depth, spread, corner)
    try:
        made, lining = draft(frame, flare, ease, body), draft(frame, flare, ease, lining_body(body, 1.0))
    except GeometryError:
        assume(False)
    edge = sum(math.dist(a, b) for a, b in pairwise(made.opening.coords))
    assert abs(edge - frame.edge - ease) <= 0.5
    left, right = made.hinges
    assert right[0] >= frame.width / 2 + flare - 0.01 and math.isclose(left[0], -right[0], abs_tol=1e-3)
    assert made.outline.is_valid
    around = made.opening.length + sum(s.length for s in made.seams) + (4 * corner if boxed and corner else 0.0)
    assert math.isclose(made.outline.exterior.length, around, abs_tol=0.05)
    assert lining.opening.equals(made.opening)
    assert lining.outline.within(made.outline.buffer(MERGE))
