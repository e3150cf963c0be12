"""Any flap pouch is either refused with a cure, or comes out right side out with its front on the lining's side."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.core.findings import blocking
from hoopwright.operations.vocabulary import Side
from hoopwright.pipeline import build
from tests.items.bags import finished, project, shows

LENGTH = st.floats(20, 160).map(lambda v: round(v, 2))


def some(values: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    return st.none() | values


MAKES = st.fixed_dictionaries(
    {
        "contents": some(st.tuples(LENGTH, LENGTH, st.floats(0, 30)).map(list)),
        "body": some(st.tuples(LENGTH, LENGTH).map(list)),
        "flap": some(LENGTH),
        "flap_radius": some(st.floats(0, 60)),
        "corner": st.floats(0, 20),
        "pocket": some(LENGTH),
        "strap": some(st.floats(0, 200)),
        "strap_width": st.floats(4, 30),
        "strap_side": st.sampled_from(["left", "right"]),
        "ground": st.just(0),
        "stiffened": st.booleans(),
        "opening": some(st.sampled_from(["edge", "lining"])),
    }
)


@settings(max_examples=40, deadline=None)
@given(MAKES, st.sampled_from(["130x180", "200x300", "360x200"]))
def test_a_pouch_is_refused_or_comes_out_right(make: dict[str, object], field: str) -> None:
    given_only = {k: v for k, v in make.items() if v is not None}
    done = build(project("flap-pouch", given_only, hoop={"field": field}))
    found = blocking(done.findings)
    if found:
        assert all(f.code.startswith(("HW41", "HW42")) and f.cure for f in found), [str(f) for f in found]
        return
    end = finished(done.plan)
    top, under = shows(end, Side.TOP), shows(end, Side.UNDER)
    assert all(right for _, right in top | under)
    assert ("pocket", True) in under
    assert "pocket" not in {sheet for sheet, _ in top}
