import assert from "node:assert/strict";
import test from "node:test";
import { bare, bound, decimal, eighths, exact, length, readLength, sides, speakIn, unitName } from "/parts/measures.js";

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

test("numbers are written as the maker's language writes them, and can be typed again", (run) => {
  speakIn(() => "de"); // DIN 5008: a comma parts the whole from its decimals
  run.after(() => speakIn(() => "en"));
  assert.equal(length(12.5, "mm"), "12,5 mm");
  assert.equal(length(1234.5, "mm"), "1234,5 mm");
  assert.equal(length(-0.01, "mm"), "0 mm");
  assert.equal(decimal(0.375, 2), "0,38");
  assert.equal(readLength(length(12.5, "mm"), "mm"), 12.5);
  assert.equal(length(6.35, "in"), "1/4 Zoll");
  assert.equal(exact(107.95, "in"), "4 1/4 Zoll");
  assert.equal(bound(400, "in", "most"), "15 11/16 Zoll");
  assert.equal(sides([107.95, 92.075], "in"), "4 1/4 × 3 5/8 Zoll");
  for (const mm of [0, 6.35, 107.95]) assert.ok(Math.abs(readLength(length(mm, "in"), "mm") - mm) < 1e-9);
  assert.equal(readLength("2 zoll", "mm"), 50.8);
  assert.equal(bare("4 1/4 Zoll"), "4 1/4");
  assert.deepEqual([unitName("in"), unitName("mm")], ["Zoll", "mm"]);
});

test("limits are told so that what is told lies within them", () => {
  assert.equal(bound(400, "in", "most"), "15 11/16 in"); // 15 3/4 in are 400.05 mm
  assert.equal(bound(400, "mm", "most"), "400 mm");
  assert.equal(bound(60, "in", "least"), "2 3/8 in");
  assert.equal(bound(6.35, "in", "least"), "1/4 in");
  assert.equal(bound(171.37, "mm", "most"), "171.3 mm");
});

test("a length is told in inches only where it is a sixteenth", () => {
  assert.equal(exact(6.35, "in"), "1/4 in");
  assert.equal(exact(5, "in"), "5 mm");
  assert.equal(exact(0.85, "mm"), "0.85 mm");
  assert.equal(sides([107.95, 92.075], "in"), "4 1/4 × 3 5/8 in");
  assert.equal(readLength("2 inches", "mm"), 50.8);
});
