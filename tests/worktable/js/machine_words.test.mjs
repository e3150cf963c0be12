import assert from "node:assert/strict";
import test from "node:test";
import { beside, colourWords, haltWords, layFacts, lineOf, lineWords, spell, ticks, workWords } from "/parts/machine_words.js";

const t = (key, values = {}) => [key, ...Object.entries(values).map(([k, v]) => `${k}=${v}`)].join(" ");
const cards = ["1-1", "2-1", "2-2"].map((place) => ({ place }));

test("times are told in whole minutes, and never as nothing while something is left", () => {
  assert.equal(spell(0, t), "machine.time.none");
  assert.equal(spell(0.2, t), "machine.time.less");
  assert.equal(spell(59.4, t), "machine.time.minutes n=59");
  assert.equal(spell(59.6, t), "machine.time.hours h=1 n=0");
  assert.equal(spell(135, t), "machine.time.hours h=2 n=15");
});

test("a running time counts seconds", () => {
  assert.deepEqual([0, 59.9, 60, 3599, 3600, 3725].map(ticks), ["0:00", "0:59", "1:00", "59:59", "1:00:00", "1:02:05"]);
  assert.equal(ticks(-3), "0:00");
});

test("next and back stay between the beginning and the end", () => {
  assert.equal(beside(cards, "before", -1), "before");
  assert.equal(beside(cards, "before", 1), "1-1");
  assert.equal(beside(cards, "2-1", 1), "2-2");
  assert.equal(beside(cards, "2-2", 1), "done");
  assert.equal(beside(cards, "done", 1), "done");
});

test("a laid piece is told with its side, its face and its edge", () => {
  const lay = { under: true, folded: false, way: "away", edge: { past: 6.35, line: "the seam between 1 and S2" } };
  assert.deepEqual(
    layFacts(lay, "in", t).map((f) => f.text),
    ["machine.under", "machine.way.away", "machine.edge past=1/4 in line=machine.line.between a=1 b=S2"],
  );
  assert.deepEqual(layFacts({ under: false, folded: true, way: "in", edge: null }, "mm", t).map((f) => f.text), ["machine.folded", "machine.way.in"]);
});

test("a line that is not known is told in the plan's words", () => {
  assert.equal(lineWords("the placement line", t), "machine.line.placement");
  assert.equal(lineWords("the seam between 3 on one side and 1 and 2 on the other", t), "the seam between 3 on one side and 1 and 2 on the other");
});

test("colours are numbered as on the machine's screen", () => {
  assert.equal(colourWords([{ number: 5 }], 22, t), "machine.colour.one n=5 of=22");
  assert.equal(colourWords([{ number: 16 }, { number: 17 }, { number: 21 }], 22, t), "machine.colour.many n=16 to=21 of=22");
});

test("a card is headed by its halt, or by what happens without one", () => {
  const card = { kind: "halt", waits: true, halt: 3 };
  assert.equal(haltWords(card, { halts: 8 }, t), "machine.halt n=3 of=8");
  assert.equal(haltWords({ ...card, waits: false }, { halts: 8 }, t), "machine.runs");
  assert.equal(haltWords({ ...card, kind: "end" }, { halts: 8 }, t), "machine.end");
  assert.equal(haltWords({ ...card, kind: "assembly" }, { halts: 8 }, t), "machine.assembly");
});

test("the list says what is done, or what is sewn where nothing is", () => {
  const flip = { work: "flip", piece: { patch: true, sign: "2" } };
  assert.equal(workWords(flip, t), "machine.work.flip: machine.piece.patch sign=2");
  assert.equal(workWords({ work: "press", piece: { patch: false, sign: "Pocket" } }, t), "machine.work.press");
  assert.equal(lineOf({ hands: [flip, { work: "press" }], sews: [{ title: "Seam" }] }, t), "machine.work.flip: machine.piece.patch sign=2, machine.work.press");
  assert.equal(lineOf({ hands: [], sews: [{ title: "Outline" }] }, t), "Outline");
});
