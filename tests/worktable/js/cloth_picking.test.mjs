import assert from "node:assert/strict";
import test from "node:test";
import { columnsOf, matching, peeking, plain, stepped } from "/parts/cloth_picking.js";

const rows = [
  { name: "tete-de-boeuf", said: "Tête de bœuf: eine Schlinge zwischen Hörnern" },
  { name: "fly", said: "Fly stitch, open shapes" },
  { name: "cross", said: "Großes Kreuz" },
];

test("words narrow, in any order, without marks and in any case", () => {
  const found = (words) => matching(rows, words).map((r) => r.name);
  assert.deepEqual(found(""), ["tete-de-boeuf", "fly", "cross"]);
  assert.deepEqual(found("  HORNERN tete "), ["tete-de-boeuf"]);
  assert.deepEqual(found("grosses"), ["cross"]);
  assert.deepEqual(found("open fly cross"), []);
  assert.equal(plain("ÄÖÜß"), "aouss");
});

test("keys walk in a grid and never leave it", () => {
  const walk = (key, at) => stepped(key, at, 7, 3); // 0 1 2 / 3 4 5 / 6
  assert.equal(walk("ArrowRight", 2), 3);
  assert.equal(walk("ArrowLeft", 0), 0);
  assert.equal(walk("ArrowUp", 1), 1);
  assert.equal(walk("ArrowDown", 1), 4);
  assert.equal(walk("ArrowDown", 4), 6, "down into a shorter row ends on its last");
  assert.equal(walk("ArrowDown", 6), 6);
  assert.equal(walk("Home", 5), 0);
  assert.equal(walk("End", 0), 6);
  assert.equal(walk("PageDown", 1), 6);
  assert.equal(walk("PageUp", 4), 1);
  assert.equal(walk("a", 1), null);
  assert.equal(stepped("ArrowDown", -1, 7, 3), 0, "nothing chosen yet: the first");
  assert.equal(stepped("ArrowDown", 0, 0, 3), null);
});

test("any walk stays inside, whatever the grid", () => {
  for (let count = 1; count < 12; count++)
    for (let columns = 1; columns < 6; columns++)
      for (let at = -1; at < count; at++)
        for (const key of ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End", "PageUp", "PageDown"]) {
          const to = stepped(key, at, count, columns);
          assert.ok(Number.isInteger(to) && to >= 0 && to < count, `${key} from ${at} of ${count} in ${columns}`);
        }
});

test("columns are counted by what stands in the first row", () => {
  assert.equal(columnsOf([4, 4.5, 4, 90, 90]), 3);
  assert.equal(columnsOf([]), 1);
});

test("a grid that goes on ends in the middle of a row", () => {
  const tops = [4, 4, 104, 104, 204, 204, 304];
  assert.equal(peeking(tops, 90, 300), "245px");
  assert.equal(peeking(tops, 90, 244), "145px");
  assert.equal(peeking(tops, 90, 390), null);
  assert.equal(peeking([4], 90, 50), "45px");
  assert.equal(peeking([4], 90, 30), "30px");
  assert.equal(peeking(tops, 90, NaN), null);
});
