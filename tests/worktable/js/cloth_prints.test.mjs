import assert from "node:assert/strict";
import test from "node:test";
import { PRINTS, tile, USUAL, widthFrom } from "/parts/cloth_prints.js";

const COLOUR = "#123456";

test("every print has a tile that repeats, in the colour asked for", () => {
  for (const way of PRINTS) {
    const made = tile({ way, colour: COLOUR, ...USUAL[way], turn: 30 });
    assert.ok(made.wide > 0 && made.high > 0 && made.turn === 30, way);
    assert.ok(made.marks.length && made.marks.every((m) => [m.set.fill, m.set.stroke].includes(COLOUR)), way);
    assert.ok(!JSON.stringify(made).includes("null"), `${way} has a number that is none`);
  }
});

test("dots are true to size, and as far apart as asked for, to all six sides", () => {
  const made = tile({ way: "dots", colour: COLOUR, size: 3, gap: 2, turn: 0 });
  const places = made.marks.map((m) => {
    const [x, y] = m.set.transform.match(/-?[\d.]+/g).map(Number);
    return [m.set.cx + x, m.set.cy + y];
  });
  assert.ok(made.marks.every((m) => m.set.r === 1.5));
  const middle = places.find(([x, y]) => Math.abs(x - 2.5) < 0.01 && Math.abs(y - made.high / 4) < 0.01);
  const near = places.map((p) => Math.hypot(p[0] - middle[0], p[1] - middle[1])).sort((a, b) => a - b);
  assert.ok(near.slice(1, 7).every((d) => Math.abs(d - 5) < 0.01), String(near.slice(0, 8)));
  assert.ok(near[7] > 6);
});

test("stripes and checks have the widths asked for", () => {
  const [stripe] = tile({ way: "stripes", colour: COLOUR, size: 2, gap: 6, turn: 0 }).marks;
  assert.equal(stripe.set.width, 2);
  const checks = tile({ way: "checks", colour: COLOUR, size: 4, gap: 4, turn: 0 });
  assert.deepEqual([checks.wide, checks.high], [8, 8]);
  assert.deepEqual(checks.marks.map((m) => [m.set.width, m.set.height]), [[4, 8], [8, 4]]);
});

test("nothing is so small that it stalls the page", () => {
  assert.ok(tile({ way: "dots", colour: COLOUR, size: 0, gap: 0, turn: 0 }).wide >= 0.5);
});

test("two places of a photograph give its width", () => {
  assert.equal(widthFrom([0.25, 0.5], [0.75, 0.5], [800, 600], 50), 100);
  assert.equal(widthFrom([0, 0], [0.6, 0.8], [100, 100], 100), 100, "3, 4, 5");
  assert.ok(Math.abs(widthFrom([0.5, 0], [0.5, 1], [800, 400], 30) - 60) < 1e-9, "upright in a wide picture");
  assert.equal(widthFrom([0.5, 0.5], [0.5, 0.5], [800, 600], 50), null);
});
