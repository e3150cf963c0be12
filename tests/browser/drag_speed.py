"""How long a dragged cut waits for its new plan: from the pointer's move to the frame in which the new pieces are drawn.

Not a test: start a worktable, then ``python tests/browser/drag_speed.py http://127.0.0.1:8765 tide-mill-flap``. What the machine does
beside it is part of the figures, so its load is printed with them.
"""

from __future__ import annotations

import os
import statistics
import sys

from playwright.sync_api import Page, sync_playwright

STEPS = 80
WATCH = """() => {
  window.waits = []; window.asked = [];
  let at = null;
  addEventListener("pointermove", () => { at = performance.now(); }, true);
  const look = new MutationObserver(() => {
    if (at === null) return;
    const from = at;
    at = null;
    requestAnimationFrame(() => waits.push(performance.now() - from));
  });
  look.observe(document.querySelector(".pieces"), { subtree: true, attributes: true, attributeFilter: ["d"], childList: true });
  const real = window.fetch;
  window.fetch = async (...all) => {
    const from = performance.now();
    const answer = await real(...all);
    await answer.clone().text();
    if (String(all[0]).endsWith("/draw/hand")) asked.push(performance.now() - from);
    return answer;
  };
}"""


def drag(page: Page, cut: int) -> None:
    """Drag the middle of a cut to and fro, one step each time the plan of the last one is drawn; put it back at the end."""
    box = page.locator(".stroke .reach").nth(cut).bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(STEPS):
        seen = page.evaluate("waits.length")
        page.mouse.move(x, y + (step % 8) * 0.7 + 0.7)
        page.wait_for_function("n => waits.length > n", arg=seen, timeout=5000)
    page.mouse.move(x, y)
    page.mouse.up()


def main(address: str, name: str, cut: int) -> None:
    """Print the figures of one drawing."""
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.goto(f"{address}/project/{name}/draw")
        page.wait_for_selector(".stroke")
        page.wait_for_timeout(800)
        page.evaluate(WATCH)
        drag(page, cut)
        waits, asked = (sorted(page.evaluate(k)) for k in ("waits", "asked"))
        pieces = page.locator(".pieces > g").count()
        browser.close()
    far = waits[int(0.95 * len(waits))]
    print(f"{name}: {pieces} pieces, {len(waits)} plans, load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    print(f"pointer to plan: median {statistics.median(waits):.0f} ms, 95 of 100 under {far:.0f} ms")
    print(f"of which the server's answer: median {statistics.median(asked):.0f} ms")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]) if len(sys.argv) > 3 else 2)
