import assert from "node:assert/strict";
import test from "node:test";
import { addChanges, firstWords, fitting, grown, isSame, level, linesOf, middleOf, modelOf, onBoard, putChanges, removeChanges, roomFor, seenFrom, sizedBy, sizedTo, thingAt, things, threadsWith, turnedTo, writtenAt } from "/parts/laid.js";
import { toHoop } from "/parts/geometry.js";

const panel = (more = {}) => ({ lettering: [], placed: [], accents: [], ...more });
const letters = (more = {}) => ({ lines: ["Tide"], at: [0, 0], width: 60, height: null, capitals: null, turn: 0, align: "middle", thread: null, font: null, ...more });
const frame = { shift: [-60, -40], turn: 30, back: [3, -2] };
const near = (a, b, by = 1e-9) => a.forEach((v, i) => assert.ok(Math.abs(v - b[i]) <= by, `${a} is not ${b}`));

test("things are listed, found and named by their place in the file", () => {
  const full = panel({ lettering: [letters(), letters({ width: 9 })], accents: [{ motif: "leaf" }] });
  assert.deepEqual(things(full).map((t) => [t.kind, t.number]), [["lettering", 1], ["lettering", 2], ["accents", 1]]);
  assert.equal(modelOf(full, { kind: "lettering", number: 2 }).width, 9);
  assert.equal(modelOf(full, { kind: "placed", number: 1 }), null);
  assert.deepEqual(thingAt("panel.lettering[2].at"), { kind: "lettering", number: 2 });
  assert.deepEqual(thingAt("panel.accents"), { kind: "accents", number: 1 });
  for (const path of ["panel.ground", "panel.letterings[1]", "make.lettering[1]", null]) assert.equal(thingAt(path), null);
  assert.ok(isSame({ kind: "placed", number: 1 }, { kind: "placed", number: 1, more: 1 }) && !isSame(null, null));
});

test("what waits to be saved has what the file need not say", () => {
  const waiting = panel({ lettering: [{ lines: ["Tide"], width: 40 }] });
  assert.deepEqual(modelOf(waiting, { kind: "lettering", number: 1 }), letters({ width: 40 }));
  assert.deepEqual(things(waiting)[0].model.at, [0, 0]);
});

test("the first of its kind makes the list, the last one takes it along", () => {
  assert.deepEqual(addChanges(panel(), "lettering", { lines: ["a"], width: 60, turn: 0, thread: null }), [{ path: "panel.lettering", value: [{ lines: ["a"] }] }]);
  assert.deepEqual(addChanges(panel({ placed: [{}, {}] }), "placed", { file: "a.dst", at: [1, 2] }), [{ path: "panel.placed[3]", value: { file: "a.dst", at: [1, 2] } }]);
  assert.deepEqual(removeChanges(panel({ placed: [{}, {}] }), { kind: "placed", number: 1 }), [{ path: "panel.placed[1]", value: null }]);
  assert.deepEqual(removeChanges(panel({ placed: [{}] }), { kind: "placed", number: 1 }), [{ path: "panel.placed", value: null }]);
});

test("what is as usual is taken out of the file", () => {
  const put = (values) => putChanges({ kind: "accents", number: 2 }, values);
  assert.deepEqual(put({ turn: 0, at: [0, 0], fullness: 0.5 }).map((c) => c.value), [null, null, null]);
  assert.deepEqual(put({ turn: 5 }), [{ path: "panel.accents[2].turn", value: 5 }]);
});

test("a place in the hoop is written in the panel's own numbers", () => {
  near(writtenAt(frame, toHoop(frame, [12.3, 45.6])), [12.3, 45.6]);
  near(toHoop(frame, middleOf(frame)), [0, 0]);
});

test("nothing is drawn off the board, where it could not be taken hold of", () => {
  const ring = [[-10, -5], [10, -5], [10, 5], [-10, 5]];
  assert.deepEqual([[3, 2], [30, 2], [-30, -30]].map((p) => onBoard(ring, p)), [[3, 2], [10, 2], [-10, -5]]);
});

test("turning follows the hand, catches at every 15 degrees and stays between half turns", () => {
  const row = { kind: "lettering", number: 1, at: [10, 5], turn: 30, box: [40, 20] };
  const at = (degrees, far = 30) => [10 + far * Math.cos(((degrees + 90) * Math.PI) / 180), 5 + far * Math.sin(((degrees + 90) * Math.PI) / 180)];
  assert.deepEqual(turnedTo(row, frame, at(30), false), { turn: 0 });
  assert.deepEqual(turnedTo(row, frame, at(30 + 47), false), { turn: 45 });
  assert.deepEqual(turnedTo(row, frame, at(30 + 47), true), { turn: 47 });
  assert.deepEqual(turnedTo(row, frame, at(30 - 100), false), { turn: -100 });
  assert.deepEqual(turnedTo(row, frame, at(30 + 180 + 20), true, true), { turn: 20 });
  assert.deepEqual([level(190), level(-190), level(180), level(720), level(-0)], [-170, 170, 180, 0, 0]);
});

test("a corner drawn away makes larger, within what can be sewn", () => {
  const row = { kind: "lettering", number: 1, at: [10, 5], turn: 90, box: [40, 20] };
  near(seenFrom(row, [10, 25]), [20, 0]);
  assert.deepEqual(sizedTo(row, letters({ width: 40 }), [0, 30], [0, 0]), { width: 50 });
  assert.deepEqual(sizedTo(row, letters({ width: 40, height: 20 }), [-5, 30], [0, 0]), { width: 50, height: 30 });
  const leaf = { ...row, kind: "accents", turn: 0, box: [20, 40] };
  assert.deepEqual(sizedTo(leaf, { size: 40 }, [10, -25], [30, 120]), { size: 60 });
  assert.deepEqual(sizedTo(leaf, { size: 40 }, [10, 4], [30, 120]), { size: 30 });
  const file = { ...leaf, kind: "placed" };
  assert.deepEqual([0, 24, 60].map((far) => sizedTo(file, { scale: 1 }, [10, 5 - far], [0, 0]).scale), [0.9, 1.1, 1.1]);
  assert.deepEqual([sizedBy(file, { scale: 1 }, 1, [0, 0]), sizedBy(leaf, { size: 30 }, -1, [30, 120])], [{ scale: 1.01 }, { size: 30 }]);
});

test("the drawing grows as what is sewn will", () => {
  const row = { kind: "lettering", number: 1, at: [0, 0], turn: 0, box: [40, 20] };
  assert.equal(grown(row, letters({ width: 40 }), { width: 60 }), 1.5);
  assert.equal(grown(row, letters({ width: 40, capitals: 8 }), { width: 60 }), 1);
  assert.equal(grown({ ...row, kind: "placed" }, { scale: 1 }, { scale: 0.9 }), 0.9);
  assert.equal(grown({ ...row, kind: "accents" }, { size: 40 }, { at: [1, 1] }), 1);
});

test("a block gets its thread, those before it keep theirs", () => {
  const blocks = ["a", "b", "c"].map((thread) => ({ thread }));
  assert.deepEqual(threadsWith(blocks, [], 1, "x"), ["a", "x"]);
  assert.deepEqual(threadsWith(blocks, ["a", "b", "c"], 0, "x"), ["x", "b", "c"]);
});

test("lines as they are written", () => {
  assert.deepEqual(linesOf("  Tide \n\n mill  wheel\n\t\nc\nd\ne"), ["Tide", "mill wheel", "c", "d"]);
  assert.equal(linesOf("x".repeat(90))[0].length, 60);
  assert.deepEqual(linesOf(" \n "), []);
});

test("the first words that fit", () => {
  assert.deepEqual([9, 11, 12, 40].map((n) => firstWords(" Spring tide  panel ", n)), ["Spring", "Spring tide", "Spring tide", "Spring tide panel"]);
  assert.equal(firstWords("Lockkeeper's", 4), "Lock");
});

test("something new is laid on the chosen piece, or where there is room and nothing lies", () => {
  const ring = (x, y, w, h) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
  const patches = [
    { letter: "A", at: [0, 35], area: ring(-45, 30, 90, 10) },
    { letter: "B", at: [-20, 10], area: ring(-45, -10, 40, 40) },
    { letter: "C", at: [20, 10], area: ring(-5, -10, 50, 40) },
  ];
  const board = { outline: ring(-45, -10, 90, 50), patches };
  const at = (...more) => roomFor(board, ...more).at;
  assert.deepEqual(roomFor(board, null, 1, 20), { letter: "C", at: [20, 10], wide: 50, high: 40 });
  assert.deepEqual(at("A", 1, 20), [0, 35]);
  assert.deepEqual(at(null, 3, 20), [20, 10]);
  assert.deepEqual(roomFor({ ...board, laid: [{ at: [18, 12] }] }, null, 1, 20).at, [-20, 10]);
  assert.deepEqual(roomFor(board, null, 1, 60), { at: [0, 0], wide: 90, high: 20 });
});

test("letters that are new stand off slanted edges as well", () => {
  const square = [[-30, -30], [30, -30], [30, 30], [-30, 30]];
  assert.equal(fitting(square, [0, 0], 60, 3, 5), 49);
  assert.equal(fitting(square, [0, 0], 40.5, 3, 5), 40);
  const slanted = [[-30, -10], [30, -10], [30, 10], [-10, 10]]; // at the height of the middle it begins at x = -20
  const wide = fitting(slanted, [5, 0], 50, 3, 2);
  const corner = [5 - wide / 2 - 2, wide / 6 + 2];
  assert.ok(wide < 40 && corner[0] > -20 + corner[1], `${wide}`);
  assert.equal(fitting(square, [0, 0], 60, 3, 40), 0);
});
