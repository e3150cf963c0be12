"""What a page looks like to the browser: words that are cut or lie on each other, and what the accessibility rules say."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from tests.browser.finding import rules
from tests.browser.window import Window

SERIOUS: Final = ("serious", "critical")
SLACK: Final = 1.5
"""CSS pixels by which boxes may touch: letters are drawn on parts of pixels."""

LOOK: Final = r"""
(slack) => {
  const wide = document.documentElement.clientWidth;
  const said = [];
  const short = (text) => text.trim().replace(/\s+/g, " ").slice(0, 50);
  const seen = (element) => {
    for (let e = element; e; e = e.parentElement) {
      const s = getComputedStyle(e);
      if (s.visibility === "hidden" || s.opacity === "0" || s.clipPath !== "none" || s.display === "none") return false;
      if (e.matches(".skip:not(:focus), option")) return false;
    }
    return element.checkVisibility();
  };
  // The box in which an element scrolls or is cut, for each direction the nearest.
  const frames = (element) => {
    const found = { cuts: [], ports: [], scrollsX: null, layer: document.documentElement };
    let layered = false;
    for (let e = element; e && e !== document.documentElement; e = e.parentElement) {
      const s = getComputedStyle(e);
      if (/hidden|clip/.test(s.overflowX + s.overflowY) && !(e instanceof SVGElement)) {
        if (!found.scrollsX) found.cuts.push({ e, x: /hidden|clip/.test(s.overflowX), y: /hidden|clip/.test(s.overflowY) });
      }
      if (!found.scrollsX && /auto|scroll/.test(s.overflowX) && e.scrollWidth > e.clientWidth + 1) found.scrollsX = e;
      if (/auto|scroll/.test(s.overflowX + s.overflowY)) found.ports.push(e);
      if (!layered && (/fixed|sticky|absolute/.test(s.position) || e instanceof HTMLDialogElement || e.hasAttribute("popover"))) {
        found.layer = e;
        layered = true;
      }
    }
    return found;
  };
  const scrolls = document.scrollingElement.scrollWidth - wide;
  if (scrolls > slack) said.push(`the page scrolls sideways by ${Math.round(scrolls)}`);

  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.textContent.trim() || !element || /^(SCRIPT|STYLE|NOSCRIPT|TITLE)$/i.test(element.tagName) || !seen(element)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const text = short(node.textContent);
    const { cuts, ports, scrollsX, layer } = frames(element);
    const size = parseFloat(getComputedStyle(element).fontSize);
    for (const r of range.getClientRects()) {
      if (r.width < 1 || r.height < 1) continue;
      if (!scrollsX && (r.left < -slack || r.right > wide + slack)) said.push(`"${text}" leaves the window sideways`);
      for (const { e, x, y } of cuts) {
        const b = e.getBoundingClientRect();
        // The box of a line is higher than its letters: what is cut must be more than the air about them.
        const air = Math.max(slack, size * 0.25);
        if ((x && (r.left < b.left - slack || r.right > b.right + slack)) || (y && (r.top < b.top - air || r.bottom > b.bottom + air)))
          said.push(`"${text}" is cut by ${e.tagName.toLowerCase()}.${e.getAttribute("class")}`);
      }
      const button = element.closest("button, a.button, .card, .sheet, [role=dialog]");
      if (button && !scrollsX) {
        const b = button.getBoundingClientRect();
        if (r.left < b.left - slack || r.right > b.right + slack) said.push(`"${text}" sticks out of ${button.tagName.toLowerCase()}.${button.className}`);
      }
      const air = element instanceof SVGElement ? r.height * 0.2 : Math.min(r.height * 0.25, size * 0.25);
      // What has been scrolled out of sight lies on nothing.
      const box = { text, layer, l: r.left, t: r.top + air, r: r.right, b: r.bottom - air };
      for (const port of ports.map((e) => e.getBoundingClientRect()))
        Object.assign(box, { l: Math.max(box.l, port.left), t: Math.max(box.t, port.top), r: Math.min(box.r, port.right), b: Math.min(box.b, port.bottom) });
      if (box.l < box.r && box.t < box.b) boxes.push(box);
    }
  }
  boxes.sort((one, two) => one.t - two.t);
  boxes.forEach((one, i) => {
    for (let k = i + 1; k < boxes.length && boxes[k].t < one.b; k += 1) {
      const two = boxes[k];
      const over = Math.min(one.r, two.r) - Math.max(one.l, two.l);
      const deep = Math.min(one.b, two.b) - two.t;
      if (one.layer === two.layer && over > slack && deep > slack) said.push(`"${one.text}" and "${two.text}" lie on each other`);
    }
  });
  for (const field of document.querySelectorAll("input, textarea")) {
    if (/checkbox|radio|range|color|file/.test(field.type) || !seen(field)) continue;
    if (field.scrollWidth > field.clientWidth + slack) said.push(`the field with "${short(field.value)}" is too narrow`);
  }
  for (const pressed of document.querySelectorAll("button, a.button, select, nav a, summary")) {
    if (!seen(pressed)) continue;
    const b = pressed.getBoundingClientRect();
    if (b.width < 24 || b.height < 24) said.push(`"${short(pressed.textContent || pressed.getAttribute("aria-label") || "")}" is too small to be pressed`);
  }
  return [...new Set(said)];
}
"""


def amiss(window: Window) -> list[str]:
    """Return what is cut, lies on something else, leaves the window or is too small to be pressed (WCAG 2.2, 2.5.8: 24 px)."""
    found: list[str] = window.page.evaluate(LOOK, SLACK)
    return found


def violations(window: Window) -> list[str]:
    """Return serious and critical violations of the accessibility rules, each with the first elements that are meant."""
    page = window.page
    if not page.evaluate("'axe' in window"):
        script = rules()
        assert script is not None
        page.evaluate(script)
    found: list[dict[str, Any]] = page.evaluate(
        "axe.run(document, {resultTypes: ['violations']}).then((r) => r.violations)"
    )
    return [
        f"{row['impact']} {row['id']}: {row['help']}: " + "; ".join(str(n["html"])[:160] for n in row["nodes"][:3])
        for row in found
        if row["impact"] in SERIOUS
    ]


def told(found: Mapping[Any, list[str]]) -> str:
    """Return what was found as lines, for a failure."""
    return "\n".join(f"{where}: {one}" for where, said in found.items() for one in said)
