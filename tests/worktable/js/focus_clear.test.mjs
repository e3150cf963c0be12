import assert from "node:assert/strict";
import test from "node:test";
import { clearing } from "/parts/focus_clear.js";

const BAR = 345; // where the totals begin in a window of 400

test("what the bar lies over goes up until it is clear", () => {
  assert.equal(clearing({ top: 340, bottom: 384 }, BAR), 47);
  assert.equal(clearing({ top: 290, bottom: 337 }, BAR), 0);
});

test("what is clear stays where it is, also above the window", () => {
  assert.equal(clearing({ top: 100, bottom: 144 }, BAR), 0);
  assert.equal(clearing({ top: -60, bottom: -16 }, BAR), 0);
});

test("the beginning of what is larger than the window stays in it", () => {
  assert.equal(clearing({ top: 120, bottom: 900 }, BAR), 112);
  assert.equal(clearing({ top: -20, bottom: 900 }, BAR), 0);
});
