import assert from "node:assert/strict";
import test from "node:test";
import { classOf, holeClasses, holePicture, shades, thicknessClasses } from "/parts/player_maps.js";

const AREA = Math.PI;

test("thickness classes follow each other from nothing to the foot, and what does not fit is the last", () => {
  for (const found of [[0.4, 1.1], [0.2], [1, 2.9], [0.5, 4.2], []]) {
    const classes = thicknessClasses(found, 3);
    assert.equal(classes[0].from, 0);
    classes.slice(1).forEach((c, i) => assert.ok(c.from >= classes[i].to - 1e-9 || c.much));
    assert.deepEqual(classes.map((c) => c.much), [...classes.slice(1).map(() => false), true]);
    assert.equal(classes[classes.length - 1].from, 3);
    for (const mm of found) {
      const c = classes[classOf(classes, mm)];
      assert.ok(mm > c.from - 1e-6 && mm <= c.to + 1e-6);
      assert.equal(c.much, mm > 3);
    }
  }
});

test("holes at the limit do not cut, one more does", () => {
  const pixels = holePicture(Uint8Array.from([13, 14]), [2, 1], AREA, 13);
  assert.deepEqual([...pixels.slice(4, 7)], [0x9c, 0x1f, 0x3c]);
  assert.notDeepEqual([...pixels.slice(0, 3)], [0x9c, 0x1f, 0x3c]);
});

test("the picture has its columns from the left and its top row first", () => {
  // counts[i * up + j]: only the place at the left, second from below, has holes.
  const pixels = holePicture(Uint8Array.from([0, 5, 0, 0, 0, 0]), [2, 3], AREA, 13);
  const opaque = Array.from({ length: 6 }, (_, k) => pixels[4 * k + 3] > 0);
  assert.deepEqual(opaque, [false, false, true, false, false, false]);
});

test("classes of holes cover everything once, and grow darker", () => {
  const classes = holeClasses(AREA, 13);
  classes.slice(1).forEach((c, i) => assert.equal(c.from, classes[i].to));
  assert.equal(classes[classes.length - 1].from, 13 / AREA);
  const light = (c) => [1, 3, 5].reduce((sum, k) => sum + parseInt(c.slice(k, k + 2), 16), 0);
  for (const n of [1, 2, 4, 7]) {
    const row = shades(n).map(light);
    assert.equal(row.length, n);
    row.slice(1).forEach((v, i) => assert.ok(v < row[i]));
  }
});

test("where there is no cloth nothing can be cut", () => {
  const classes = holeClasses(AREA, null);
  assert.ok(classes.every((c) => !c.much));
  assert.equal(classes[classes.length - 1].to, Infinity);
  const pixels = holePicture(Uint8Array.from([255, 1]), [2, 1], AREA, null);
  assert.notDeepEqual([...pixels.slice(0, 3)], [0x9c, 0x1f, 0x3c]);
  assert.ok(pixels[0] < pixels[4]);
});
