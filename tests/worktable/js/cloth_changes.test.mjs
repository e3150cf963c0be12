import assert from "node:assert/strict";
import test from "node:test";
import { allFollow, EDGE, freeKey, groundChanges, groundFollows, lean, overChanges, seamChanges, seamFollows, seamModel, seamThread, usesOfCloth, usesOfThread } from "/parts/cloth_changes.js";

const row = (more = {}) => ({ stitch: "feather", thread: null, width: null, repeat: null, mirror: false, turn: false, sides: null, spacing: 0, weight: "bold", ease: 0, taper: 0, over: null, ...more });
const ground = (more = {}) => ({ kind: "none", spacing: null, margin: 2, angle: null, seed: 1, thread: null, times: 1, file: null, ...more });
const panel = (more = {}) => ({ cloths: {}, seam_stitch: row({ stitch: "fly", thread: "gold", width: 6 }), seams: {}, ground: ground(), grounds: {}, edge_stitch: null, lettering: [], placed: [], accents: [], ...more });
const project = (more = {}) => ({
  make: {},
  cloths: { linen: { kind: "cloth" }, twill: { kind: "cloth" }, lawn: { kind: "lining" } },
  threads: { chalk: {}, gold: {}, slate: {} },
  guides: { layout: null, seam: null, hold: null, outline: null },
  panel: panel(),
  ...more,
});
const view = (patches = [], cloths = [], threads = []) => ({ panels: [{ patches }], totals: { cloths, threads } });

test("a seam that followed the others keeps what they have", () => {
  assert.deepEqual(seamChanges(panel(), 3, { mirror: true }), [{ path: "panel.seams.3", value: { stitch: "fly", thread: "gold", width: 6, mirror: true } }]);
  assert.deepEqual(seamChanges(panel(), 3, { stitch: "feather", width: null }), [{ path: "panel.seams.3", value: { stitch: "feather", thread: "gold" } }]);
});

test("a seam of its own, and all seams, change value by value", () => {
  const own = panel({ seams: { 3: row({ stitch: "cross" }) } });
  assert.deepEqual(seamChanges(own, 3, { width: 4, sides: null }), [{ path: "panel.seams.3.width", value: 4 }, { path: "panel.seams.3.sides", value: null }]);
  assert.deepEqual(seamChanges(own, null, { weight: "fine" }), [{ path: "panel.seam_stitch.weight", value: "fine" }]);
  assert.equal(seamModel(own, 3).stitch, "cross");
  assert.equal(seamModel(own, 2).stitch, "fly");
  assert.deepEqual(seamFollows(3), [{ path: "panel.seams.3", value: null }]);
  assert.deepEqual(allFollow(own), [{ path: "panel.seams.3", value: null }]);
});

test("the thread of a seam is its own, that of all, or the first", () => {
  assert.equal(seamThread(project(), 1), "gold");
  assert.equal(seamThread(project({ panel: panel({ seams: { 1: row({ thread: "slate" }), 2: row() } }) }), 1), "slate");
  assert.equal(seamThread(project({ panel: panel({ seams: { 2: row() } }) }), 2), "gold");
  assert.equal(seamThread(project({ panel: panel({ seam_stitch: row() }) }), 2), "chalk");
});

test("a row over a row is written whole, without what need not be said", () => {
  assert.deepEqual(overChanges(panel(), null, { stitch: "coral" }), [{ path: "panel.seam_stitch.over", value: { stitch: "coral" } }]);
  assert.deepEqual(overChanges(panel(), null, null), [{ path: "panel.seam_stitch.over", value: null }]);
  const has = panel({ seam_stitch: row({ over: { ...row({ stitch: "lacing" }), ease: undefined, taper: undefined, over: undefined } }) });
  assert.deepEqual(overChanges(has, null, { thread: "slate" }), [{ path: "panel.seam_stitch.over", value: { stitch: "lacing", thread: "slate" } }]);
  assert.deepEqual(overChanges(has, 2, null), [{ path: "panel.seams.2", value: { stitch: "feather" } }]);
});

test("a row along the outline comes and goes whole", () => {
  assert.equal(seamModel(panel(), EDGE).stitch, "none");
  assert.deepEqual(seamChanges(panel(), EDGE, { stitch: "fly" }), [{ path: "panel.edge_stitch", value: { stitch: "fly" } }]);
  assert.deepEqual(seamChanges(panel(), EDGE, { stitch: "none" }), []);
  const has = panel({ edge_stitch: { ...row({ stitch: "chain" }), distance: 4 } });
  assert.equal(seamModel(has, EDGE).distance, 4);
  assert.deepEqual(seamChanges(has, EDGE, { distance: 5 }), [{ path: "panel.edge_stitch.distance", value: 5 }]);
  assert.deepEqual(seamChanges(has, EDGE, { stitch: "none" }), [{ path: "panel.edge_stitch", value: null }]);
  assert.equal(seamThread(project(), EDGE), "gold");
});

test("grounds of a panel and of a piece", () => {
  assert.deepEqual(groundChanges(panel(), null, { kind: "vine", angle: null }), [{ path: "panel.ground.kind", value: "vine" }, { path: "panel.ground.angle", value: null }]);
  const quilted = panel({ ground: ground({ kind: "echo", margin: 3 }) });
  assert.deepEqual(groundChanges(quilted, "B", { kind: "vine" }), [{ path: "panel.grounds.B", value: { kind: "vine", margin: 3 } }]);
  const own = panel({ grounds: { B: ground({ kind: "vine" }) } });
  assert.deepEqual(groundChanges(own, "B", { seed: 9 }), [{ path: "panel.grounds.B.seed", value: 9 }]);
  assert.deepEqual(groundFollows("B"), [{ path: "panel.grounds.B", value: null }]);
  assert.deepEqual(groundChanges(quilted, "B", { kind: "none" }), [{ path: "panel.grounds.B", value: { kind: "none", margin: 3 } }]);
});

test("what is usual need not be written, what must be said is", () => {
  assert.deepEqual(lean({ stitch: "feather", width: null, weight: "bold", mirror: true }, row(), "stitch"), { stitch: "feather", mirror: true });
});

test("a key for a new name is one the project file allows, and free", () => {
  const allowed = /^[a-z][a-z0-9-]{0,39}$/;
  for (const name of ["Reed green", "Größe 3", "12 blau", "---", "日本", "a".repeat(90), `${"b".repeat(29)} c`]) assert.match(freeKey(name, []), allowed, name);
  assert.equal(freeKey("Reed green!", ["reed-green", "reed-green-2"]), "reed-green-3");
});

test("a cloth in use is told: pieces, other parts, the last of all", () => {
  const patches = [{ letter: "A", cloth: "linen" }, { letter: "B", cloth: "twill" }];
  const cut = [["linen", 1, 1, 1], ["lawn", 1, 1, 1]];
  assert.deepEqual(usesOfCloth(project({ panel: panel({ cloths: { C: "linen" } }) }), view(patches, cut), "linen"), { patches: ["A", "C"], parts: false, last: false });
  assert.deepEqual(usesOfCloth(project(), view(patches, cut), "lawn"), { patches: [], parts: true, last: false });
  assert.deepEqual(usesOfCloth(project({ make: { outer: "twill" } }), view(), "twill"), { patches: [], parts: true, last: false });
  assert.equal(usesOfCloth(project({ cloths: { linen: { kind: "cloth" }, lawn: { kind: "lining" } } }), view(), "linen").last, true);
  assert.equal(usesOfCloth(project({ cloths: { linen: { kind: "cloth" }, lawn: { kind: "lining" } } }), view(), "lawn").last, false);
});

test("a thread in use is told, wherever it stands", () => {
  const all = { all: panel(), seams: panel({ seam_stitch: row(), seams: { 2: row({ over: { thread: "gold" } }) } }), ground: panel({ seam_stitch: row(), grounds: { A: ground({ thread: "gold" }) } }) };
  for (const [use, made] of Object.entries(all)) assert.deepEqual(usesOfThread(project({ panel: made }), view(), "gold"), [use]);
  const bare = panel({ seam_stitch: row() });
  assert.deepEqual(usesOfThread(project({ panel: bare, guides: { layout: "gold", seam: null, hold: null, outline: null } }), view(), "gold"), ["guides"]);
  for (const more of [{ lettering: [{ thread: "gold" }] }, { placed: [{ threads: ["gold"] }] }, { accents: [{ thread: "gold" }] }, { edge_stitch: row({ thread: "gold" }) }]) assert.deepEqual(usesOfThread(project({ panel: { ...bare, ...more } }), view(), "gold"), ["more"]);
  assert.deepEqual(usesOfThread(project({ panel: bare }), view([], [], [["chalk", 3]]), "chalk"), ["first"]);
  assert.deepEqual(usesOfThread(project({ panel: bare }), view(), "gold"), []);
});
