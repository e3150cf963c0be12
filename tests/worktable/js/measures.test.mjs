import assert from "node:assert/strict";
import test from "node:test";
import { eighths, length, readLength } from "/parts/measures.js";

test("lengths as the maker writes them", () => {
  assert.equal(length(108, "mm"), "108 mm");
  assert.equal(length(107.96, "mm"), "108 mm");
  assert.equal(length(6.35, "in"), "1/4 in"); // NIST SP 811 (2008): 1 in is 25.4 mm
  assert.equal(length(107.95, "in"), "4 1/4 in");
  assert.equal(length(-3.175, "in"), "-1/8 in");
  assert.equal(eighths(2), "2");
  assert.equal(eighths(-1.5), "-1 1/2");
});

test("what a maker types is read in her units, or in those she names", () => {
  const cases = [["108", "mm", 108], ["10.5 cm", "mm", 105], ["4 1/4 in", "mm", 107.95], ['4.25"', "mm", 107.95], ["1/4", "in", 6.35], ["12,5", "mm", 12.5], ["-3", "mm", -3]];
  for (const [text, units, mm] of cases) assert.ok(Math.abs(readLength(text, units) - mm) < 1e-9, text);
  for (const wrong of ["", "wide", "4 feet", "1/0", "--3", "3 mm mm"]) assert.equal(readLength(wrong, "mm"), null, wrong);
});

test("what is shown can be typed again", () => {
  for (const mm of [0, 6.35, 12.7, 107.95, 25.4]) assert.ok(Math.abs(readLength(length(mm, "in"), "in") - mm) < 1e-9);
  for (const mm of [0, -15.3, 108]) assert.equal(readLength(length(mm, "mm"), "mm"), mm);
});
