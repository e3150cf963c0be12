import assert from "node:assert/strict";
import test from "node:test";
import { tile } from "/parts/cloth_prints.js";
import { Painter } from "/parts/player_canvas.js";
import { carry, placed } from "/parts/player_camera.js";
import { fineness, lying, moves } from "/parts/player_prints.js";

const AS_LAID = [1, 0, 0, 1, 0, 0];
const near = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-9, `${a} is not ${b}`));
/** Mirrored over the line x = 5, as a run sheet tells it: x' = 10 - x. */
const OVER_FIVE = [-1, 0, 0, 1, 10, 0];

test("a mark is moved as an SVG says: the last move first", () => {
  near(carry(moves("translate(10 20) rotate(90)"), 1, 0), [10, 21]); // SVG 1.1, 7.6: rotate turns clockwise as y goes down
  near(carry(moves(), 3, 4), [3, 4]);
});

test("a tile is true to size: its pixels cover its millimetres, above is above", () => {
  const photo = { wide: 120, high: 80, turn: 0 };
  const map = lying(photo, { width: 900, height: 600 }, undefined, AS_LAID);
  near(carry(map, 0, 0), [0, 0]);
  near(carry(map, 900, 600), [120, -80]);
});

test("a print lies as on the drawing when the patch is open, and goes along when cloth is folded", () => {
  const print = { ...tile({ way: "stripes", colour: "#123456", size: 2, gap: 4, turn: 30 }) };
  const pixels = { width: 60, height: 100 };
  const drawn = lying(print, pixels, undefined, AS_LAID);
  near(lying(print, pixels, OVER_FIVE, OVER_FIVE), drawn); // laid face down over a seam, then opened: twice mirrored
  const folded = lying(print, pixels, undefined, OVER_FIVE);
  near(carry(folded, 7, 9), carry(placed(OVER_FIVE), ...carry(drawn, 7, 9)));
});

test("tiles are drawn as fine as they are seen, within bounds", () => {
  assert.equal(fineness(5, 10), 8);
  assert.equal(fineness(0.3, 10), 2);
  assert.equal(fineness(500, 10), 64);
  assert.ok(fineness(500, 2000) * 2000 <= 2048);
});

test("a section laid in a section brings the stitches of both along, each where it lies", () => {
  globalThis.Path2D = class {
    moveTo() {}
    lineTo() {}
    closePath() {}
  };
  const lines = [];
  const ctx = new Proxy({}, { get: (_, name) => (name === "lineTo" ? (x, y) => lines.push([x, y]) : () => {}), set: () => true });
  const others = new Map();
  /** A hooping with one stitch from (0, 0) to (x, 0), that shows `piece` at its end. */
  const hooping = (x, piece, pieced, frames) => {
    const row = { piece, surface: 0, right: true, rings: [] };
    const needles = { xy: Int16Array.from([0, 0, 100 * x, 0]), opens: Uint8Array.from([1, 0]), top: Uint16Array.from([0, 0]), topGone: Uint16Array.from([9, 9]) };
    const finished = { rows: [row], open: Uint8Array.from([1]), by: 1 };
    return { surfaces: [{ piece, right: true, placing: AS_LAID }], needles, ends: [2], colours: ["#102030"], finished, pieced, frames, others };
  };
  others.set("one", hooping(1, "A", {}, {}));
  others.set("two", hooping(2, "S1", { S1: "one" }, { S1: OVER_FIVE }));
  const sheet = hooping(4, "S2", { S2: "two" }, { S2: [1, 0, 0, 1, 0, 7] });
  const painter = new Painter({ getContext: () => ctx }, { getContext: () => ctx });
  Object.assign(painter, { sheet: { ...sheet, field: [100, 100] }, size: { width: 400, height: 400 } });
  const [row] = sheet.finished.rows;
  assert.equal(painter.sewnBefore(ctx, row, painter.sheet, [1, 0, 0, 1, 0, 0]), 2);
  near(lines.flat(), [9, 7, 2, 7]);
});
