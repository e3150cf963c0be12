import assert from "node:assert/strict";
import test from "node:test";
import { after, carry, moved, placed, scaleOf, squeezed, undone, view, WHOLE, zoomed, ROUND_HOOP } from "/parts/player_camera.js";

const FIELD = [130, 180];
const SIZE = { width: 600, height: 500 };
const near = (a, b) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) < 1e-9, `${a} is not ${b}`));

test("the whole hoop fits, upright, and from under left and right change places", () => {
  const top = view(FIELD, SIZE, WHOLE, "top");
  const under = view(FIELD, SIZE, WHOLE, "under");
  near(carry(top, 0, 0), [300, 250]);
  const [, y] = carry(top, 0, 90 + ROUND_HOOP);
  near([y], [0]);
  assert.ok(carry(top, 10, 0)[0] > 300 && carry(under, 10, 0)[0] < 300);
  assert.ok(carry(top, 0, 10)[1] < 250 && carry(under, 0, 10)[1] < 250);
});

test("maps follow each other and are undone", () => {
  const one = [0.6, 0.8, 0.8, -0.6, 3, -4];
  const other = view(FIELD, SIZE, { x: 5, y: 9, zoom: 3 }, "under");
  for (const p of [[0, 0], [1, 2], [-40, 7]]) {
    near(carry(after(other, one), ...p), carry(other, ...carry(one, ...p)));
    near(carry(undone(other), ...carry(other, ...p)), p);
  }
});

test("a placing of the run sheet is read by rows", () => {
  // x' = 0 x - 1 y + 5, y' = 1 x + 0 y + 7: a quarter turn, then a move.
  near(carry(placed([0, -1, 1, 0, 5, 7]), 2, 3), [2, 9]);
});

test("cloth folds about its line: through it when half done, mirrored at the end", () => {
  const line = [1, 1, 4, 5];
  near(carry(squeezed(line, 1), 7, -2), [7, -2]);
  const half = carry(squeezed(line, 0), 7, -2);
  assert.ok(Math.abs((half[0] - 1) * 4 - (half[1] - 1) * 3) < 1e-9);
  const over = carry(squeezed(line, -1), 7, -2);
  near([(over[0] + 7) / 2, (over[1] - 2) / 2], half);
  near(carry(squeezed(line, -1), 1, 1), [1, 1]);
});

test("what is under the fingers stays there when it grows", () => {
  for (const side of ["top", "under"]) {
    const spot = [280, 300];
    const place = carry(undone(view(FIELD, SIZE, WHOLE, side)), ...spot);
    const camera = zoomed(FIELD, SIZE, WHOLE, side, 4, spot);
    near(carry(view(FIELD, SIZE, camera, side), ...place), spot);
    assert.equal(scaleOf(FIELD, SIZE, camera), 4 * scaleOf(FIELD, SIZE, WHOLE));
  }
});

test("no farther than the whole hoop, no nearer than is of use, never beside the hoop", () => {
  assert.equal(zoomed(FIELD, SIZE, { x: 3, y: 4, zoom: 1.2 }, "top", 0.5, [0, 0]), WHOLE);
  assert.equal(zoomed(FIELD, SIZE, WHOLE, "top", 1e6, [300, 250]).zoom, 40);
  const far = moved(FIELD, SIZE, { x: 0, y: 0, zoom: 2 }, "top", -1e6, 1e6);
  assert.ok(Math.abs(far.x) <= 65 + ROUND_HOOP && Math.abs(far.y) <= 90 + ROUND_HOOP);
});

test("dragging carries the work along with the hand on both sides", () => {
  for (const side of ["top", "under"]) {
    const camera = { x: 2, y: 1, zoom: 5 };
    const place = [4, 4];
    const was = carry(view(FIELD, SIZE, camera, side), ...place);
    const now = carry(view(FIELD, SIZE, moved(FIELD, SIZE, camera, side, 12, -7), side), ...place);
    near(now, [was[0] + 12, was[1] - 7]);
  }
});
