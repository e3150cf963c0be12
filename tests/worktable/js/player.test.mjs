import assert from "node:assert/strict";
import test from "node:test";
import { inOneRow, madeReady, Player } from "/parts/player.js";
import { TEMPOS } from "/parts/player_timing.js";

const NEVER = 0xffff;
const AS_LAID = [1, 0, 0, 1, 0, 0];

/** A hooping as the worktable tells it: a base, cloth A laid on it after the first block, 3 and then 4 stitches on it. */
function told(key = "panel") {
  const base = { piece: "base", right: true, rings: [], surface: 0 };
  const under = { piece: "base", right: false, rings: [], surface: 1 };
  const cloth = { piece: "A", right: true, rings: [], surface: 2 };
  return {
    key,
    field: [100, 100],
    pace: { speed: 60, full: 4, trim: 0 },
    runs: 2,
    laces: {},
    frames: {},
    pieced: {},
    names: {},
    shapes: [],
    surfaces: [base, under, cloth].map(({ piece, right }) => ({ piece, right, placing: AS_LAID })),
    views: [{ top: [base], under: [under] }, { top: [base, cloth], under: [under] }],
    moments: [
      { kind: "hand", work: "hoop", number: 1, lies: 0, hooped: true, halt: false },
      { kind: "sew", number: 1, lies: 0, hooped: true, first: 0, count: 3, colour: "#102030", minutes: 0.05 },
      { kind: "hand", work: "lay", piece: "A", number: 2, lies: 1, hooped: true, halt: true },
      { kind: "sew", number: 2, lies: 1, hooped: true, first: 3, count: 4, colour: "#405060", minutes: 0.07 },
      { kind: "hand", work: "release", number: 3, lies: 1, hooped: false, halt: true },
    ],
  };
}

function bulk() {
  const buffer = new ArrayBuffer(16 + 12 + 12 * 7);
  new Uint32Array(buffer, 0, 7).set([1, 2, 7, 0, 0, 3, 7]);
  new Int16Array(buffer, 28, 14).set([0, 0, 100, 0, 200, 0, 0, 500, 100, 500, 200, 500, 300, 500]);
  new Uint16Array(buffer, 56, 7).set([0, 0, 0, 2, 2, 2, 2]);
  new Uint16Array(buffer, 70, 7).set(Array(7).fill(1));
  new Uint16Array(buffer, 84, 14).set(Array(14).fill(NEVER));
  return buffer;
}

const ready = (key) => ({ ...madeReady(told(key), bulk()), path: "" });

function player(keys = ["panel"]) {
  const heard = [];
  const found = new Player("p", (what) => heard.push(what));
  found.tempo = TEMPOS[0];
  found.take(keys.map(ready));
  return [found, heard];
}

test("what drawing needs is known of every view and surface", () => {
  const sheet = ready();
  assert.deepEqual([...sheet.ends], [3, 7]);
  assert.deepEqual(sheet.born, [0, 0, 3]);
  assert.deepEqual([...sheet.since], [[0, 0], [1, 2]]);
  assert.deepEqual([...sheet.begins], [[0, 0], [1, 3]]);
  assert.deepEqual(sheet.top.map((row) => [...row]), [[0, 3, 0], [], [3, 7, 1]]);
  assert.deepEqual([...sheet.finished.open], [1, 0, 1]);
});

test("sides of one sheet that lies elsewhere lead to each other", () => {
  const row = told();
  row.surfaces.push({ piece: "A", right: true, placing: [-1, 0, 0, 1, 10, 0] });
  const families = madeReady(row, bulk()).families;
  assert.deepEqual(families.map((f) => f.map((one) => one.surface)), [[], [], [3], [2]]);
  const [a, , , d, e] = families[3][0].carried;
  assert.deepEqual([a * 2 + e, d * 5], [8, 5]);
});

test("handwork knows how much was sewn before it, in each hooping anew", () => {
  const moments = inOneRow([ready(), ready("other")]);
  assert.deepEqual(moments.map((m) => m.first), [0, 0, 3, 3, 7, 0, 0, 3, 3, 7]);
  assert.deepEqual(moments.map((m) => m.hooping), [0, 0, 0, 0, 0, 1, 1, 1, 1, 1]);
});

test("played to its end it rests there, and begins anew when asked to go on", () => {
  const [found, heard] = player();
  found.play(true);
  for (let i = 0; i < 400 && found.playing; i++) found.tick(0.1);
  assert.deepEqual(found.place, { at: 4, part: 1 });
  assert.equal(found.playing, false);
  assert.equal(found.atEnd, true);
  assert.equal(heard.filter((w) => w === "moment").length, 4);
  assert.equal(found.sewn, 7);
  found.play(true);
  assert.deepEqual(found.place, { at: 0, part: 0 });
});

test("with waiting, the machine stops before the hands begin", () => {
  const [found] = player();
  found.waits = true;
  found.play(true);
  for (let i = 0; i < 400 && found.playing; i++) found.tick(0.1);
  assert.deepEqual(found.place, { at: 2, part: 0 });
  assert.equal(found.before, 0);
  assert.equal(found.moment.lies, 1);
});

test("a jump to handwork shows it being done and rests; without moving pictures it is done at once", () => {
  const [found] = player();
  found.jump(2);
  assert.equal(found.gliding, true);
  for (let i = 0; i < 20; i++) found.tick(0.1);
  assert.deepEqual(found.place, { at: 2, part: 1 });
  assert.equal(found.tick(0.1), false);
  found.still = true;
  found.jump(4);
  assert.deepEqual(found.place, { at: 4, part: 1 });
});

test("the needle is on its way to the next position, with its thread from the last", () => {
  const [found] = player();
  found.playing = true;
  found.go({ at: 3, part: 1.5 });
  assert.deepEqual(found.needle().at, [0.5, 5]);
  assert.deepEqual(found.needle().from, [0, 5]);
  found.go({ at: 3, part: 0 });
  assert.deepEqual([found.needle().at, found.needle().from], [[0, 5], null]);
  found.go({ at: 2, part: 0.5 });
  assert.equal(found.needle(), null);
});

test("before the first handwork of another hooping nothing lies in the hoop", () => {
  const [found] = player(["panel", "other"]);
  found.go({ at: 5, part: 0 });
  assert.equal(found.before, -1);
  assert.equal(found.sheet.key, "other");
  assert.equal(found.sheet.others.get("panel").key, "panel");
});

test("sheets that are taken again keep the place", () => {
  const [found] = player();
  found.go({ at: 3, part: 2 });
  found.take([ready()]);
  assert.deepEqual(found.place, { at: 3, part: 0 });
  found.take([]);
  assert.deepEqual(found.place, { at: 0, part: 0 });
});
