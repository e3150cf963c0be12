"""A display list written as SVG 1.1: true size in mm, no scripts, no outside files."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree import ElementTree

from hoopwright.core.types import Mm, Point
from hoopwright.outputs.drawing.flatten import primitives
from hoopwright.outputs.drawing.fonts import CAP_HEIGHT, FAMILY
from hoopwright.outputs.drawing.shapes import Area, Circle, Drawing, Label, Line, Primitive

DECIMALS = 3
"""A thousandth of a millimetre is far finer than any printer."""

FAMILIES = f"'{FAMILY}', 'Source Sans 3', 'Arial Narrow', 'Liberation Sans Narrow', Arial, sans-serif"
"""Where the type face is not installed, others of about its width: words stay on their plates."""


def number(value: float) -> str:
    """Return ``value`` with at most DECIMALS decimals, without idle zeros, never as "-0"."""
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def to_svg(drawing: Drawing, width_mm: Mm | None = None) -> str:
    """Return the drawing as an SVG document.

    ``width_mm`` scales the whole drawing to that width; without it the drawing is true to size. One unit of the
    viewBox is one millimetre of the drawing. Letters that XML does not allow are left out of the texts.
    """
    width = drawing.width if width_mm is None else width_mm
    height = drawing.height * width / drawing.width
    root = ElementTree.Element("svg", _root(drawing, width, height))
    ElementTree.SubElement(root, "title").text = clean(drawing.title)
    if drawing.description:
        ElementTree.SubElement(root, "desc").text = clean(drawing.description)
    if drawing.background:
        box = {"width": number(drawing.width), "height": number(drawing.height), "fill": drawing.background}
        ElementTree.SubElement(root, "rect", box)
    for shape in primitives(drawing):
        _add(root, shape, (drawing.extent[0], drawing.extent[3]))
    ElementTree.indent(root, " ")
    return ElementTree.tostring(root, encoding="unicode") + "\n"


def _root(drawing: Drawing, width: Mm, height: Mm) -> dict[str, str]:
    return {
        "xmlns": "http://www.w3.org/2000/svg",
        "version": "1.1",
        "width": f"{number(width)}mm",
        "height": f"{number(height)}mm",
        "viewBox": f"0 0 {number(drawing.width)} {number(drawing.height)}",
        "role": "img",
        "stroke-linejoin": "round",
    }


def clean(text: str) -> str:
    """Return ``text`` without the control characters that XML 1.0 forbids."""
    return "".join(
        c for c in text if c in "\t\n\r" or 0x20 <= ord(c) < 0xD800 or 0xE000 <= ord(c) not in (0xFFFE, 0xFFFF)
    )


def _add(parent: ElementTree.Element, shape: Primitive, corner: Point) -> None:
    if isinstance(shape, Area):
        d = "".join(_path(r, corner, closed=True) for r in shape.rings)
        given = {"d": d, "fill": shape.fill or "none", "fill-rule": "evenodd"}
        given |= _stroke(shape.edge, shape.width, shape.dash)
        ElementTree.SubElement(parent, "path", given | _opacity(shape.opacity))
    elif isinstance(shape, Line):
        given = {"d": _path(shape.points, corner, closed=shape.closed), "fill": "none"}
        given |= _stroke(shape.colour, shape.width, shape.dash)
        ElementTree.SubElement(parent, "path", given | ({} if shape.dash else {"stroke-linecap": "round"}))
    elif isinstance(shape, Circle):
        x, y = _place(shape.centre, corner)
        given = {"cx": x, "cy": y, "r": number(shape.radius), "fill": shape.fill or "none"}
        ElementTree.SubElement(parent, "circle", given | _stroke(shape.edge, shape.width, ()))
    else:
        _text(parent, shape, corner)


def _text(parent: ElementTree.Element, label: Label, corner: Point) -> None:
    x, y = _place((label.at[0], label.at[1] - 0.5 * CAP_HEIGHT * label.size), corner)
    given = {"x": x, "y": y, "font-family": FAMILIES, "font-size": number(label.size)}
    given |= {"text-anchor": label.anchor, "fill": label.colour}
    if label.bold:
        given["font-weight"] = "bold"
    if label.halo:
        given |= _stroke(label.halo, 2.0 * label.halo_width, ()) | {"paint-order": "stroke"}
    ElementTree.SubElement(parent, "text", given).text = clean(label.text)


def _stroke(colour: str | None, width: Mm, dash: tuple[Mm, ...]) -> dict[str, str]:
    if colour is None or width <= 0.0:
        return {}
    given = {"stroke": colour, "stroke-width": number(width)}
    return given | ({"stroke-dasharray": " ".join(number(d) for d in dash)} if dash else {})


def _opacity(value: float) -> dict[str, str]:
    return {"opacity": number(value)} if value < 1.0 else {}


def _place(point: Point, corner: Point) -> tuple[str, str]:
    return number(point[0] - corner[0]), number(corner[1] - point[1])


def _path(points: Iterable[Point], corner: Point, *, closed: bool) -> str:
    left, top = corner
    places = [f"{number(x - left)} {number(top - y)}" for x, y in points]
    return "M" + "L".join(places) + ("Z" if closed else "")
