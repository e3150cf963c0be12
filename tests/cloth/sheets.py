"""Sheets made by hand."""

from __future__ import annotations

from shapely.geometry import Polygon, box

from hoopwright.cloth.handling import lay
from hoopwright.cloth.shapes import Layer, Stack
from hoopwright.operations.vocabulary import Face, Side

SQUARE = box(-20, -20, 20, 20)


def sheet(
    name: str,
    region: Polygon = SQUARE,
    face: Face = Face.UP,
    side: Side = Side.TOP,
    thickness: float = 0.3,
    foundation: bool = False,
) -> Layer:
    return Layer(name, "linen", thickness, region, face, side, foundation)


def stack_of(*layers: Layer) -> Stack:
    stack = Stack()
    for layer in layers:
        stack = lay(stack, layer)
    return stack


def order(stack: Stack) -> list[tuple[str, str]]:
    return [(p.sheet, p.face.value) for p in stack.layers]
