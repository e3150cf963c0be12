import assert from "node:assert/strict";
import test from "node:test";
import { decode, NOWHERE, stretches } from "/parts/player_decode.js";

/** Bytes as the worktable sends them, written by hand. */
function bytes(runs, top, under = top, gone = top.map(() => NOWHERE)) {
  const count = runs.reduce((n, r) => n + r.length, 0);
  const size = 16 + 4 * (runs.length + 1) + 12 * count;
  const view = new DataView(new ArrayBuffer(size));
  [1, runs.length, count, 0].forEach((v, i) => view.setUint32(4 * i, v, true));
  let first = 0;
  runs.forEach((r, i) => {
    view.setUint32(16 + 4 * i, first, true);
    first += r.length;
  });
  view.setUint32(16 + 4 * runs.length, count, true);
  let at = 16 + 4 * (runs.length + 1);
  for (const [x, y] of runs.flat()) {
    view.setInt16(at, x, true);
    view.setInt16(at + 2, y, true);
    at += 4;
  }
  for (const owner of [...top, ...under, ...gone, ...gone]) {
    view.setUint16(at, owner, true);
    at += 2;
  }
  return view.buffer;
}

test("positions, runs and surfaces come out as they went in", () => {
  const found = decode(bytes([[[0, 0], [250, -1]], [[-32768, 32767]]], [0, 0, 1], [2, 2, NOWHERE], [NOWHERE, 5, 6]));
  assert.equal(found.count, 3);
  assert.deepEqual([...found.topGone], [NOWHERE, 5, 6]);
  assert.deepEqual([...found.underGone], [NOWHERE, 5, 6]);
  assert.deepEqual([...found.starts], [0, 2, 3]);
  assert.deepEqual([...found.xy], [0, 0, 250, -1, -32768, 32767]);
  assert.deepEqual([...found.opens], [1, 0, 1]);
  assert.deepEqual([...found.top], [0, 0, 1]);
  assert.deepEqual([...found.under], [2, 2, NOWHERE]);
});

test("what is cut off or of another form is refused", () => {
  const whole = bytes([[[0, 0], [1, 1]]], [0, 0]);
  assert.throws(() => decode(whole.slice(0, whole.byteLength - 2)), /are due/);
  assert.throws(() => decode(new ArrayBuffer(4)), /too early/);
  const other = whole.slice(0);
  new DataView(other).setUint32(0, 9, true);
  assert.throws(() => decode(other), /form 9/);
});

test("nothing to sew is no fault", () => {
  assert.equal(decode(bytes([], [])).count, 0);
});

test("stretches part at runs, blocks and surfaces, and hold every stitch that lies on one", () => {
  const owners = [0, 0, 1, 1, 0, NOWHERE, 0, 0];
  const needles = decode(bytes([[[0, 0], [1, 0], [2, 0], [3, 0]], [[4, 0], [5, 0]], [[6, 0], [7, 0]]], owners));
  const found = stretches(needles, needles.top, Uint32Array.from([3, 6, 8]), 2).map((row) => [...row]);
  assert.deepEqual(found, [[0, 2, 0, 4, 5, 1, 6, 8, 2], [2, 3, 0, 3, 4, 1]]);
  const held = found.flatMap((row) => Array.from({ length: row.length / 3 }, (_, k) => row[3 * k + 1] - row[3 * k]));
  assert.equal(held.reduce((a, b) => a + b), owners.filter((o) => o !== NOWHERE).length);
});

test("blocks without stitches do not move the others", () => {
  const needles = decode(bytes([[[0, 0], [1, 0], [2, 0]]], [0, 0, 0]));
  assert.deepEqual([...stretches(needles, needles.top, Uint32Array.from([0, 0, 3]), 1)[0]], [0, 3, 2]);
});
