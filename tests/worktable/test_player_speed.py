"""How fast the player draws 100,000 stitches, in a browser without a screen. Started by make bench; figures in docs/performance.md."""

from __future__ import annotations

import json
import math
import os
import shutil
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from tests.worktable.tables import DEMO, shelf

pytestmark = pytest.mark.bench

CHROMIUM = shutil.which("chromium")
PORT = 8793
STITCHES = 100_000
ARGS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking")

SERVE = """
import sys
from pathlib import Path
from hoopwright.worktable.server import serve
serve(Path(sys.argv[1]), int(sys.argv[2]), show=False)
"""

FRAMES = """async (seconds) => {
  const times = [];
  let last = await new Promise(requestAnimationFrame);
  const end = last + seconds * 1000;
  while (last < end) {
    const now = await new Promise(requestAnimationFrame);
    times.push(now - last);
    last = now;
  }
  times.sort((a, b) => a - b);
  const mean = times.reduce((a, b) => a + b, 0) / times.length;
  return { mean, p95: times[Math.floor(times.length * 0.95)], longest: times[times.length - 1], frames: times.length };
}"""

WORK = """async () => {
  const { Painter } = await import("/parts/player_canvas.js");
  const spent = { add: [], draw: [] };
  for (const name of ["add", "draw"]) {
    const real = Painter.prototype[name];
    Painter.prototype[name] = function (...args) {
      const start = performance.now();
      const drawn = real.apply(this, args);
      this.ctx.getImageData(0, 0, 1, 1); // wait until it is drawn
      spent[name].push([performance.now() - start, drawn]);
      return drawn;
    };
  }
  window.spent = spent;
}"""


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = shelf(tmp_path_factory.mktemp("shelf"))
    env = {k: v for k, v in os.environ.items() if not k.startswith("PYTEST")}
    server = subprocess.Popen([sys.executable, "-c", SERVE, str(folder), str(PORT)], env=env)
    try:
        home = f"http://127.0.0.1:{PORT}"
        for _ in range(60):
            time.sleep(0.5)
            try:
                urllib.request.urlopen(f"{home}/api/shelf").close()
                break
            except OSError:
                continue
        yield home
    finally:
        server.terminate()
        server.wait()


def walk(count: int, wide: float, high: float) -> np.ndarray[Any, np.dtype[np.int16]]:
    """Stitches of 2.5 mm that fill a field in turns, in hundredths of a mm."""
    t = np.arange(count) * 2.5
    rows = 40
    way = wide * rows
    along, line = np.mod(t, way), np.floor(np.mod(t, way) / wide)
    x = np.where(line % 2 == 0, np.mod(along, wide), wide - np.mod(along, wide)) - wide / 2
    y = (line + np.floor(t / way) / 17 % 1) * high / rows - high / 2
    return np.round(np.column_stack([x, y]) * 100).astype("<i2")


def sheet(blocks: int) -> tuple[dict[str, Any], bytes]:
    """A run sheet of 100,000 stitches in so many blocks of three colours, on the foundation and one cloth."""
    wide, high = 180.0, 240.0
    box = [[-90, -130], [90, -130], [90, 130], [-90, 130]]
    half = [[-90, -130], [0, -130], [0, 130], [-90, 130]]
    place = [1, 0, 0, 1, 0, 0]
    look = {"edge": "#555555", "right": True}
    row = {"piece": "foundation", "paint": "#f6f3ea", "rings": [box], "surface": 0, **look}
    cloth = {"piece": "A", "paint": "#8a9a6b", "rings": [half], "surface": 1, "cloth": "reed", "on": 1, **look}
    under = {**row, "surface": 2}
    views = [{"top": [row], "under": [under]}, {"top": [row, cloth], "under": [under]}]
    each = STITCHES // blocks
    hand = {"number": 1, "kind": "hand", "work": "lay", "piece": "A", "sentence": "Lay it", "halt": True, "done": True}
    moments: list[dict[str, Any]] = [{**hand, "lies": 1, "hooped": True, "laid": {"side": "top", "shape": 0}}]
    for k in range(blocks):
        moments.append(
            {
                "kind": "sew", "number": k + 1, "lies": 1, "hooped": True, "role": "ground", "title": f"Block {k + 1}",
                "sentence": "Sew", "thread": "Weed", "colour": ("#c9a227", "#2c4a70", "#9c3a27")[k % 3], "count": each,
                "runs": 1, "first": each * k, "run": k, "minutes": each / 800, "catches": [["A", 0]],
            }
        )  # fmt: skip
    at = walk(each * blocks, wide - 4, high - 4)
    top = np.where(at[:, 0] < 0, 1, 0).astype("<u2")
    bulk = b"".join(
        (
            np.array([1, blocks, len(at), 0], dtype="<u4").tobytes(),
            (np.arange(blocks + 1) * each).astype("<u4").tobytes(),
            at.tobytes(),
            top.tobytes(),
            np.full(len(at), 2, dtype="<u2").tobytes(),
            np.full(2 * len(at), 0xFFFF, dtype="<u2").tobytes(),
        )
    )
    surfaces = [
        {"piece": "foundation", "right": True, "placing": place},
        {"piece": "A", "right": True, "placing": place},
    ]
    names = {k: {"words": k, "sign": k, "patch": False, "foundation": k != "A"} for k in ("foundation", "A")}
    return {
        "key": "panel", "title": "Ground", "field": [wide, high], "pace": {"speed": 800, "full": 4, "trim": 0.1},
        "stitches": len(at), "runs": blocks, "names": names, "views": views, "shapes": [[half]], "laces": {}, "frames": {}, "pieced": {}, "moments": moments,
        "surfaces": [*surfaces, {"piece": "foundation", "right": False, "placing": place}],
        "holes": {"corner": [0, 0], "cell": 0.5, "size": [0, 0], "area": math.pi, "cuts": 13}, "foot": 3.0,
    }, bulk  # fmt: skip


PRINT = {"way": "leaves", "colour": "#f5f0e6", "size": 8, "gap": 3, "turn": 30}


@pytest.mark.parametrize(("blocks", "scale"), [(1, 1), (1, 2), (20, 1), (20, 2)])
@pytest.mark.parametrize("looks", [{}, {"reed": PRINT}], ids=["plain", "printed"])
def test_frames_while_playing_at_the_fastest(address: str, blocks: int, scale: int, looks: dict[str, Any]) -> None:
    from playwright.sync_api import sync_playwright

    if CHROMIUM is None:
        pytest.skip("Chromium is not installed: NOT MEASURED")
    row, bulk = sheet(blocks)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        page = browser.new_context(viewport={"width": 1280, "height": 800}, device_scale_factor=scale).new_page()
        said = json.dumps({"version": 0, "prints": ["x"], "hoopings": [row]})
        page.route(f"**/api/projects/{DEMO}/run", lambda r: r.fulfill(body=said, content_type="application/json"))
        shown = json.dumps({"looks": looks})
        page.route(f"**/api/projects/{DEMO}/cloth", lambda r: r.fulfill(body=shown, content_type="application/json"))
        page.route("**/needles.bin", lambda r: r.fulfill(body=bulk, content_type="application/octet-stream"))
        page.goto(f"{address}/project/{DEMO}/sew")
        page.wait_for_selector(".runsheet")
        page.select_option(".sew-ways select >> nth=0", "block")
        page.locator(".runsheet button").nth(1).click()
        page.wait_for_timeout(500)
        still = page.evaluate(FRAMES, 1.0)
        page.locator(".sew-keys .main").click()
        frames = page.evaluate(FRAMES, min(blocks, 6) * 0.95)
        page.evaluate(WORK)
        page.locator(".runsheet button").nth(0).click()  # the cloth is laid: it moves with its print
        laying = page.evaluate(FRAMES, 0.8)
        page.keyboard.press("End")
        page.wait_for_timeout(500)
        page.evaluate("spent.add.length = spent.draw.length = 0")
        page.keyboard.press("u")  # from under: everything is drawn anew
        page.wait_for_timeout(700)
        full = page.evaluate("[...spent.draw, ...spent.add].reduce((a, b) => [a[0] + b[0], a[1] + b[1]], [0, 0])")
        browser.close()
    print(
        f"\n{blocks} blocks, scale {scale}, {'printed' if looks else 'plain'}: resting {still}\n  playing {frames}\n  laying {laying}\n  drawn anew {full[0]:.0f} ms, {full[1]} stitches"
    )
    assert frames["frames"] > 10
    assert full[1] > 0.9 * STITCHES
