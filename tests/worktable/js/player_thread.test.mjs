import assert from "node:assert/strict";
import test from "node:test";
import { NOWHERE } from "/parts/player_decode.js";
import { inks, mixed, strands } from "/parts/player_thread.js";

/** A canvas that writes down the lines it is asked for. */
class Pen {
  constructor() {
    this.lines = [];
    this.path = [];
  }
  beginPath() {
    this.path = [];
  }
  moveTo(x, y) {
    this.at = [x, y];
  }
  lineTo(x, y) {
    this.path.push([...this.at, x, y]);
    this.at = [x, y];
  }
  stroke() {
    this.lines.push(...this.path.map((line) => [this.strokeStyle, this.lineWidth, ...line]));
  }
}

const SIZE = { width: 100, height: 100 };
const MAP = [10, 0, 0, -10, 50, 50]; // 10 pixels to the mm, the origin in the middle
const needles = (places, opens) => ({ xy: Int16Array.from(places.flat().map((v) => v * 100)), opens: Uint8Array.from(opens) });
const drawn = (n, from, to, owners = null, ink = inks("#804020", 1, 1)) => {
  const pen = new Pen();
  const count = strands(pen, n, from, to, MAP, ink, SIZE, owners);
  return { lines: pen.lines.map((l) => l.slice(2)), count, pen };
};
const WALK = needles([[0, 0], [1, 0], [1, 1], [3, 3], [3, 2]], [1, 0, 0, 1, 0]);

test("thread goes from position to position, and not between runs", () => {
  const { lines, count } = drawn(WALK, 0, 5);
  assert.deepEqual(lines, [[50, 50, 60, 50], [60, 50, 60, 40], [80, 20, 80, 30]]);
  assert.equal(count, 3);
});

test("drawn bit by bit the same thread lies there", () => {
  const whole = drawn(WALK, 0, 5).lines;
  const bits = [0, 1, 2, 3, 4].flatMap((i) => drawn(WALK, i, i + 1).lines);
  assert.deepEqual(bits, whole);
});

test("paths are cut into rows, and nothing is lost at the cuts", () => {
  const many = needles(Array.from({ length: 2000 }, (_, i) => [i % 5, (i * 7) % 3]), [1, ...Array(1999).fill(0)]);
  for (const row of [1, 2, 7, 600]) {
    const { lines, count } = drawn(many, 0, 2000, null, { row, strokes: [["#000000", 1]] });
    assert.equal(lines.length, 1999);
    assert.equal(count, 1999);
  }
});

test("stitches beside the canvas, and those that lie nowhere, are left out", () => {
  const far = needles([[0, 0], [40, 0], [80, 0], [40, 0], [0, 0]], [1, 0, 0, 0, 0]);
  assert.deepEqual(drawn(far, 0, 5).lines, [[50, 50, 450, 50], [450, 50, 50, 50]]);
  assert.equal(drawn(WALK, 0, 5, { owners: Uint16Array.from([0, NOWHERE, 0, 0, 0]) }).count, 2);
  const gone = Uint16Array.from([NOWHERE, 4, 5, NOWHERE, 3]);
  assert.deepEqual([2, 3, 4, 5].map((by) => drawn(WALK, 0, 5, { gone, by }).count), [3, 2, 1, 0]);
});

test("from near a thread has a dark edge and a light middle", () => {
  assert.equal(inks("#804020", 4, 1).strokes.length, 1);
  const near = inks("#804020", 30, 1).strokes;
  assert.equal(near.length, 3);
  const light = ([c]) => [1, 3, 5].reduce((sum, k) => sum + parseInt(c.slice(k, k + 2), 16), 0);
  assert.ok(light(near[0]) < light(near[1]) && light(near[1]) < light(near[2]));
  assert.ok(near[0][1] > near[1][1] && near[1][1] > near[2][1]);
  assert.equal(mixed("#000000", "#ff8000", 0.5), "#804000");
});
