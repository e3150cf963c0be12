import assert from "node:assert/strict";
import test from "node:test";
import { changedOf, grouped, meantMm, partOf, shown, titleTrouble, wrongOf } from "/parts/shelf_form.js";

const width = { name: "width", kind: "length", usual: 130, least: 60, most: 220 };
const contents = { name: "contents", kind: "lengths", usual: null, count: 3, example: [82, 88, 8], bounds: [{ above: 0, most: 400 }, { above: 0, most: 400 }, { least: 0, most: 80 }] };
const opening = { name: "opening", kind: "choice", usual: null, choices: ["edge", "lining"] };
const capitals = { name: "capitals", kind: "length", usual: null, above: 0, most: 200 };
const count = { name: "count", kind: "whole", usual: 2, least: 1, most: 8 };
const lines = { name: "lines", kind: "texts", usual: ["one", "two"] };
const FORM = [width, contents, opening, capitals, count, lines];
const first = (units) => Object.fromEntries(FORM.map((row) => [row.name, shown(row, units)]));

test("a form that is left alone changes nothing, in both units", () => {
  for (const units of ["mm", "in"]) {
    const values = first(units);
    assert.deepEqual(changedOf(FORM, values, units), {});
    assert.deepEqual(FORM.filter((row) => wrongOf(row, values[row.name], units)), []);
  }
});

test("what is changed is sent as the file takes it", () => {
  const values = { ...first("mm"), width: "14 cm", contents: ["82", "88", "8,5"], opening: "lining", capitals: "12", count: "3", lines: "a\n\n b " };
  assert.deepEqual(changedOf(FORM, values, "mm"), { width: 140, contents: [82, 88, 8.5], opening: "lining", capitals: 12, count: 3, lines: ["a", "b"] });
});

test("inches stay inches in the file", () => {
  const values = { ...first("in"), width: "5 1/2", contents: ["3 1/4", "3.5 in", "8 mm"] };
  assert.deepEqual(changedOf(FORM, values, "in"), { width: "5 1/2 in", contents: ["3 1/4 in", "3.5 in", "8 mm"] });
  assert.deepEqual(changedOf(FORM, { ...first("in"), width: "5 1/2 Zoll" }, "in"), { width: "5 1/2 in" }); // as a German page calls them
});

test("what cannot be is told, at its limits exactly", () => {
  for (const good of ["60", "220", "6 cm"]) assert.ok(!wrongOf(width, good, "mm"), good);
  for (const bad of ["59.9", "220.1", "wide", "", "-70", "NaN", "1e9"]) assert.ok(wrongOf(width, bad, "mm"), bad);
  assert.ok(!wrongOf(capitals, "", "mm"));
  assert.ok(wrongOf(capitals, "0", "mm"));
  assert.ok(wrongOf(count, "2.5", "mm"));
  assert.ok(!wrongOf(contents, ["", "", ""], "mm"));
  assert.ok(wrongOf(contents, ["82", "", "8"], "mm"));
  assert.ok(!wrongOf(contents, ["400", "88", "0"], "mm"));
  for (const bad of [["78", "88", "8"], ["3", "3 1/2", "4"]]) assert.ok(wrongOf(contents, bad, "in"), bad);
  assert.ok(wrongOf(contents, ["0", "88", "8"], "mm"));
  assert.deepEqual(partOf(contents, 2), { name: "contents", kind: "length", usual: null, least: 0, most: 80 });
});

test("millimetres written where inches are asked are guessed", () => {
  assert.equal(meantMm(width, "130", "in"), "130");
  for (const other of ["5", "130 mm", "300", "5 1/2"]) assert.equal(meantMm(width, other, "in"), null, other);
  assert.equal(meantMm(width, "130", "mm"), null);
});

test("a title is one to 120 letters", () => {
  assert.equal(titleTrouble("  "), "shelf.title.none");
  assert.equal(titleTrouble("x".repeat(120)), null);
  assert.equal(titleTrouble("x".repeat(121)), "shelf.title.long");
});

test("sizes are asked first, the rest is folded away, nothing is lost", () => {
  const groups = grouped(FORM);
  assert.deepEqual(groups.map((g) => g.rows.map((r) => r.name)), [["width", "contents", "count", "lines"], ["opening", "capitals"]]);
  assert.deepEqual(groups.map((g) => g.folded), [false, true]);
});
