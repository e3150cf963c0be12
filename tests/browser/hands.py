"""Three ways to work at the page: with a mouse, with a finger, with keys alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

from playwright.sync_api import CDPSession, Locator, expect

from tests.browser.window import Window

FAR: Final = 400
"""So many presses of the tab key reach everything on a page."""
STEPS: Final = 8
"""Moves of a pointer in one stroke."""

UPRIGHT: Final = """
(piece) => {
  const box = piece.getBBox();
  return [0.3, 0.5, 0.7].map((part) => [0.3, 0.7].map((down) => [box.x + box.width * part, box.y + box.height * down]));
}
"""
"""Three upright strokes in the middle of a piece, in millimetres of the drawing."""
IN_WINDOW: Final = """
(board, places) => places.map(([x, y]) => {
  const place = new DOMPoint(x, y).matrixTransform(board.getScreenCTM());
  return [place.x, place.y];
})
"""
"""Where places of the drawing lie in the window now; the drawing is scaled to the room there is."""
WAY: Final = """
(element) => {
  const at = document.activeElement;
  if (element === at) return "here";
  if (!element.isConnected) return "gone";
  const behind = at !== document.body && at.compareDocumentPosition(element) === Node.DOCUMENT_POSITION_PRECEDING;
  return behind ? "Shift+Tab" : "Tab";
}
"""
"""The key that leads from where the focus is towards an element. What was found once is not looked for again at every press."""

Point = tuple[float, float]


class Hand(Protocol):
    """What a maker does, whatever she does it with."""

    def press(self, what: Locator) -> None:
        """Press a button, a link, a piece."""

    def write(self, field: Locator, text: str) -> None:
        """Write something into a field instead of what stands there."""

    def cut(self, letter: str) -> None:
        """Draw three cuts through a piece, side by side."""

    def slide(self, number: int) -> None:
        """Slide a cut a little."""

    def choose(self, name: str) -> None:
        """Take what is called so from the list that is open."""

    def shift(self, what: Locator) -> None:
        """Move something that lies on the panel a little to the right."""


@dataclass
class Pointer:
    """A mouse."""

    maker: Window

    def press(self, what: Locator) -> None:
        """Click."""
        what.click()

    def write(self, field: Locator, text: str) -> None:
        """Write over what stands there."""
        field.fill(text)

    def stroke(self, start: Point, end: Point) -> None:
        """Lead the mouse from one place to another with its button down."""
        mouse = self.maker.page.mouse
        mouse.move(*start)
        mouse.down()
        mouse.move(*end, steps=STEPS)
        mouse.up()

    def cut(self, letter: str) -> None:
        """Take the tool for it once, and draw three upright cuts."""
        maker = self.maker
        there = maker.cuts().count()
        maker.piece(letter).scroll_into_view_if_needed()
        strokes: list[list[Point]] = maker.piece(letter).evaluate(UPRIGHT)
        self.press(maker.button("draw.cut"))
        for k, stroke in enumerate(strokes, 1):
            start, end = maker.board().evaluate(IN_WINDOW, stroke)
            self.stroke(start, end)
            expect(maker.cuts()).to_have_count(there + k)
            maker.quiet()

    def slide(self, number: int) -> None:
        """Drag a cut by its middle."""
        if self.maker.button("draw.move").get_attribute("aria-pressed") != "true":
            self.press(self.maker.button("draw.move"))
        x, y = self.maker.middle_of_cut(number)
        self.stroke((x, y), (x + 6, y))

    def choose(self, name: str) -> None:
        """Press it in the list."""
        self.press(self.maker.page.get_by_role("option", name=name, exact=True))

    def shift(self, what: Locator) -> None:
        """Drag it by its middle."""
        what.scroll_into_view_if_needed()
        box = what.bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.stroke((x, y), (x + 24, y))


@dataclass
class Finger(Pointer):
    """A finger on glass: what the browser is told of it is told by its own protocol."""

    def press(self, what: Locator) -> None:
        """Tap."""
        what.tap()

    def stroke(self, start: Point, end: Point) -> None:
        """Lead the finger over the glass."""
        touch: CDPSession = self.maker.context.new_cdp_session(self.maker.page)
        places = [tuple(a + (b - a) * k / STEPS for a, b in zip(start, end, strict=True)) for k in range(STEPS + 1)]
        for k, (x, y) in enumerate(places):
            kind = "touchMove" if k else "touchStart"
            touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
        touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        touch.detach()


@dataclass
class Keys:
    """Keys alone: whatever is pressed must first be reached."""

    maker: Window

    def reach(self, what: Locator) -> None:
        """Go on with the tab key until this has the focus, or back where it lies behind."""
        expect(what).to_be_attached()
        there = what.element_handle()
        for _ in range(FAR):
            way = there.evaluate(WAY)
            if way == "here":
                return
            if way == "gone":  # drawn anew meanwhile
                there = what.element_handle()
                continue
            self.maker.page.keyboard.press(way)
        raise AssertionError(f"keys cannot reach {what}")

    def press(self, what: Locator) -> None:
        """Reach it and press Enter."""
        self.reach(what)
        self.maker.page.keyboard.press("Enter")

    def write(self, field: Locator, text: str) -> None:
        """Reach it and write over what stands there."""
        self.reach(field)
        self.maker.page.keyboard.press("Control+A")
        self.maker.page.keyboard.type(text)

    def cut(self, letter: str) -> None:
        """Cut a piece across by its key, and again what is left of it."""
        maker = self.maker
        there = maker.cuts().count()
        for k in range(1, 4):
            self.reach(maker.piece(letter))
            maker.page.keyboard.press("c")
            expect(maker.cuts()).to_have_count(there + k)
            maker.quiet()

    def slide(self, number: int) -> None:
        """Reach a cut and press an arrow."""
        self.reach(self.maker.cut(number))
        self.maker.page.keyboard.press("ArrowUp")

    def choose(self, name: str) -> None:
        """Write its name, then take what is left."""
        self.maker.page.keyboard.type(name)
        expect(self.maker.page.get_by_role("option", name=name, exact=True)).to_be_visible()
        self.maker.page.keyboard.press("ArrowDown")
        self.maker.page.keyboard.press("Enter")

    def shift(self, what: Locator) -> None:
        """Reach it and press an arrow."""
        self.reach(what)
        self.maker.page.keyboard.press("ArrowRight")
