import assert from "node:assert/strict";
import test from "node:test";
import { cureOf } from "/parts/finding_cures.js";
import { limitsOf } from "/parts/outline_form.js";
import { told } from "/parts/resizing.js";
import { DAYS, dayOf, fieldSaved, fieldSize, groundOf, isUsual, isWrong, limits, saved, usualSaid, valueOf, written } from "/parts/settings_rows.js";
import { inWords } from "/parts/shelf_words.js";
import { texts } from "/parts/texts.js";

const speed = { name: "speed", path: "machine.speed", kind: "whole", usual: 600, least: 100, most: 2000 };
const lock = { name: "lock", path: "stitching.lock", kind: "length", usual: 0.5, least: 0.3, most: 0.8, fine: true };
const allowance = { name: "allowance", path: "piecing.allowance", kind: "length", usual: 6.35, least: 2, most: 30 };
const chance = { name: "chance", path: "piecing.chance", kind: "share", usual: 0.01, above: 0, most: 0.5 };
const batting = { name: "batting", path: "foundation.batting", kind: "text", usual: null };
const contents = { name: "contents", path: "make.contents", kind: "lengths", usual: null, count: 3, bounds: [{ above: 0, most: 400 }, { above: 0, most: 400 }, { least: 0, most: 80 }] };
const ground = { name: "ground", path: "make.ground", kind: "ground", usual: { kind: "crosshatch", spacing: 12, margin: 3 } };
const field = { path: "hoop.field", kind: "field", usual: "130x180", sold: [{ name: "130x180", width: 130, height: 180 }, { name: "200x200", width: 200, height: 200 }] };

test("a field shows what stands in the project, and the usual where nothing stands", () => {
  const project = { machine: {}, piecing: { allowance: 8 }, make: { contents: ["4 in", 88, "8 mm"], ground: 12 }, foundation: { batting: null } };
  assert.equal(valueOf(speed, project), 600);
  assert.equal(written(allowance, valueOf(allowance, project), "in"), "8 mm"); // no sixteenth of an inch: not told as one
  assert.equal(written(allowance, 6.35, "in"), "1/4 in");
  assert.deepEqual(written(contents, valueOf(contents, project), "mm"), ["101.6 mm", "88 mm", "8 mm"]);
  assert.equal(valueOf(batting, project), null);
  assert.ok(isUsual(ground, project) && isUsual(batting, project) && !isUsual(allowance, project));
  assert.deepEqual(groundOf(0), { kind: "none" });
});

test("what was begun in inches is the usual to a sixteenth", () => {
  const width = { name: "width", path: "make.width", kind: "length", usual: 100 };
  const project = { units: "in", make: { width: "3 15/16 in" } };
  assert.ok(isUsual(width, project));
  assert.ok(!isUsual(width, { ...project, units: "mm" }));
  assert.ok(!isUsual(width, { units: "in", make: { width: "4 in" } }));
  assert.equal(usualSaid(width, "in"), "3 15/16 in");
  assert.equal(usualSaid({ ...allowance, usual: 5 }, "in"), "5 mm");
});

test("small lengths are mm to everybody, also when only a number is typed", () => {
  assert.equal(written(lock, 0.5, "in"), "0.5 mm");
  assert.equal(saved(lock, "0,4", "in"), 0.4);
  assert.ok(isWrong(lock, "1", "in") && !isWrong(lock, "0.8", "in"));
});

test("an empty field takes the setting out of the file", () => {
  for (const row of [speed, lock, batting]) assert.equal(saved(row, "  ", "mm"), null);
  assert.equal(isWrong(speed, "", "mm"), false);
});

test("a share is written as so many of a hundred", () => {
  assert.equal(written(chance, 0.01, "mm"), "1");
  assert.equal(saved(chance, "2,5", "mm"), 0.025);
  assert.ok(isWrong(chance, "0", "mm") && isWrong(chance, "51", "mm") && !isWrong(chance, "50", "mm"));
});

test("inches stay inches in the file, and limits that are told can be typed", () => {
  assert.equal(saved(allowance, "3/8", "in"), "3/8 in");
  assert.equal(saved(allowance, "3/8 inch", "in"), "3/8 in");
  for (const units of ["mm", "in"])
    for (const top of [400, 30, 171.37, 12.75]) {
      const row = { ...allowance, least: 0.05, most: top };
      texts.words = { "shelf.limits": "{least}|{most}" };
      const [least, up] = limits(row, units).split("|");
      assert.ok(!isWrong(row, up, units), `${top} ${units}: ${up}`);
      assert.ok(!isWrong(row, least, units), `${top} ${units}: ${least}`);
    }
});

test("days of laying, and numbers of one's own", () => {
  assert.equal(dayOf({ piecing: { shift: 1, turn: 1 } }), "good");
  assert.equal(dayOf({ piecing: { shift: DAYS.bad[0], turn: DAYS.bad[1] } }), "bad");
  assert.equal(dayOf({ piecing: { shift: 1, turn: 3 } }), "own");
});

test("a field that is sold is saved by its name, another by its size", () => {
  assert.deepEqual(fieldSize(field, "130x180"), [130, 180]);
  assert.deepEqual(fieldSize(field, ["2 in", 180]), [50.8, 180]);
  assert.equal(fieldSaved(field, [200, 200]), "200x200");
  assert.deepEqual(fieldSaved(field, [145, 180.004]), [145, 180]);
});

test("what became of the drawing is told", () => {
  const was = { pieces: 6, ring: "a", sound: true, drawn: false };
  assert.equal(told(was, was, 5), null);
  assert.deepEqual(told(was, { ...was, ring: "b" }, 5), ["size.carried", {}]);
  assert.deepEqual(told(was, { ...was, ring: "b", pieces: 5 }, 5), ["size.pieces", { before: 6, after: 5 }]);
  assert.deepEqual(told(was, { ...was, ring: "b", sound: false }, 5), ["size.spoilt", {}]);
  assert.deepEqual(told({ ...was, drawn: true }, { ...was, ring: "b", drawn: true }, 0), ["size.drawn", {}]);
  assert.equal(told({ ...was, pieces: 1 }, { ...was, pieces: 1, ring: "b" }, 0), null);
});

test("batting can be left out where too much lies under the foot, and only there", () => {
  const project = { foundation: { batting: "thin" } };
  assert.deepEqual(cureOf({ code: "HW563" }, project)?.changes, [{ path: "foundation.batting", value: null }]);
  assert.equal(cureOf({ code: "HW563" }, { foundation: { batting: null } }), null);
  assert.equal(cureOf({ code: "HW601" }, project), null);
});

test("settings are called what their fields are called", () => {
  texts.words = { "make.flap": "Height of the flap", "set.machine.longest_stitch": "Longest stitch", "set.called": "“{name}”" };
  assert.equal(inWords("Make it smaller (make.flap, make.other)"), "Make it smaller (“Height of the flap”, make.other)");
  texts.words = { ...texts.words, "make.title": "Sizes and make" };
  assert.equal(inWords('Name "make.flap" below [make]'), 'Name "Height of the flap" below “Sizes and make”');
  assert.equal(inWords("Make longest_stitch larger; machine.longest_stitch, no_such_word"), "Make “Longest stitch” larger; “Longest stitch”, no_such_word");
});

test("an outline's corners have room in it", () => {
  assert.deepEqual(limitsOf({ width: 100, height: 80, tip: 50 }, "radius"), [0, 30]);
  assert.deepEqual(limitsOf({ width: 100, height: 80 }, "width"), [1, 1000]);
});
