import assert from "node:assert/strict";
import test from "node:test";
import { abandoned, keysOf, patched, queued, rebased } from "/parts/waiting.js";

test("a place is read as findings write it", () => {
  assert.deepEqual(keysOf("panel.patchwork.cuts[2]"), ["panel", "patchwork", "cuts", 1]);
  assert.deepEqual(keysOf('panel.seams."12".stitch'), ["panel", "seams", "12", "stitch"]);
  assert.deepEqual(keysOf("panel.seams.12.stitch"), ["panel", "seams", "12", "stitch"]);
});

test("changes are made in a copy", () => {
  const before = { title: "Flap", panel: { cuts: [[1], [2]], order: ["A"] } };
  const after = patched(before, [
    { path: "title", value: "New" },
    { path: "panel.cuts[2]", value: [3] },
    { path: "panel.cuts[1]", value: null },
    { path: "panel.order", value: null },
    { path: "panel.ground.kind", value: "meander" },
  ]);
  assert.deepEqual(after, { title: "New", panel: { cuts: [[3]], ground: { kind: "meander" } } });
  assert.equal(before.title, "Flap");
  assert.equal(before.panel.cuts.length, 2);
});

test("changes made on one version stand on the one that came of it, others keep theirs", () => {
  assert.deepEqual(rebased([{ base: 3 }, { base: 3 }, { base: 9 }], 3, 4), [{ base: 4 }, { base: 4 }, { base: 9 }]);
});

test("only queues of this project whose window is closed are taken over", () => {
  const alive = new Set(["w2"]);
  assert.ok(abandoned("hoopwright.waiting.flap/w1", "flap", alive));
  assert.ok(!abandoned("hoopwright.waiting.flap/w2", "flap", alive));
  assert.ok(!abandoned("hoopwright.waiting.flap-2/w1", "flap", alive));
  assert.ok(!abandoned("hoopwright.language", "flap", alive));
});

test("a drawing changed while a size waits goes before that size, which carries it", () => {
  const size = { carry: "resize", changes: [{ path: "make.width" }] };
  const title = { changes: [{ path: "title" }] };
  const drawn = { carry: true, changes: [{ path: "panel.patchwork" }] };
  const other = { changes: [{ path: "panel.patchwork" }] };
  assert.deepEqual(queued([title, size], drawn), [title, drawn, size]);
  assert.deepEqual(queued([title, drawn, size], other), [title, drawn, other, size]);
  assert.deepEqual(queued([title, size], title), [title, size, title]);
  assert.deepEqual(queued([drawn], size), [drawn, size]);
});
