import assert from "node:assert/strict";
import test from "node:test";
import { found, fromWindow, keepInWindow, kept, ways } from "/parts/sew_kept.js";

const SHEETS = [{ key: "flap" }, { key: "pouch" }];
const hand = (hooping, number, work, piece) => ({ kind: "hand", hooping, number, work, piece, first: 0 });
const sew = (hooping, number, count) => ({ kind: "sew", hooping, number, count, first: 0 });
const ROW = [hand(0, 1, "hoop"), sew(0, 1, 30), hand(0, 2, "press"), hand(0, 2, "press"), sew(0, 2, 80), hand(1, 1, "hoop"), sew(1, 1, 40)];

test("the place is found again to the stitch, and a handwork among others like it", () => {
  for (const place of [{ at: 4, part: 33 }, { at: 3, part: 0.5 }, { at: 2, part: 1 }, { at: 6, part: 40 }]) {
    assert.deepEqual(found(ROW, SHEETS, kept(ROW, SHEETS, place)), place);
  }
});

test("it is found by what is done, when something comes before it or hoopings change places", () => {
  const was = kept(ROW, SHEETS, { at: 4, part: 33 });
  assert.deepEqual(found([hand(0, 1, "lay", "A"), ...ROW], SHEETS, was), { at: 5, part: 33 });
  const turned = ROW.map((m) => ({ ...m, hooping: 1 - m.hooping }));
  assert.deepEqual(found(turned, [SHEETS[1], SHEETS[0]], was), { at: 4, part: 33 });
});

test("a block of other stitches begins anew; without it the block before holds; without its hooping the beginning", () => {
  const was = kept(ROW, SHEETS, { at: 4, part: 33 });
  assert.deepEqual(found(ROW.map((m) => (m === ROW[4] ? { ...m, count: 81 } : m)), SHEETS, was), { at: 4, part: 0 });
  assert.deepEqual(found(ROW.filter((m) => m !== ROW[4]), SHEETS, was), { at: 1, part: 0 });
  assert.deepEqual(found(ROW, [{ key: "other" }], was), { at: 0, part: 0 });
});

test("each project has its own place in this window, and a window that keeps nothing does no harm", () => {
  const storage = new Map();
  globalThis.sessionStorage = { getItem: (k) => storage.get(k) ?? null, setItem: (k, v) => storage.set(k, v) };
  keepInWindow("pouch", { tempo: "block" });
  assert.deepEqual([fromWindow("pouch"), fromWindow("mat")], [{ tempo: "block" }, null]);
  storage.set("hoopwright.sew.mat", "{");
  assert.equal(fromWindow("mat"), null);
  globalThis.sessionStorage = { setItem: () => { throw new Error("full"); } };
  assert.doesNotThrow(() => keepInWindow("pouch", {}));
});

test("only ways of looking that there are come back", () => {
  assert.deepEqual(ways({ tempo: "block", side: "under", chart: "holes", waits: true, marks: false, at: 3 }), { tempo: "block", waits: true, side: "under", chart: "holes", marks: false });
  assert.deepEqual(ways({ tempo: "a year", side: 3, chart: null, marks: "no" }), {});
  assert.deepEqual(ways(null), {});
});
