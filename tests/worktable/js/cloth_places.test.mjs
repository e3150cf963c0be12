import assert from "node:assert/strict";
import test from "node:test";
import { meantBy, spotOf } from "/parts/cloth_places.js";

test("a finding leads to what mends it", () => {
  const cases = [
    [{ path: "panel.seams.12.width", patch: "B" }, { mode: "seam", seam: 12 }],
    [{ path: "panel.seam_stitch.stitch" }, { mode: "seam", seam: null }],
    [{ path: "panel.edge_stitch" }, { mode: "seam", seam: 0 }],
    [{ path: "panel.cloths.C", patch: "C" }, { mode: "cloth", letter: "C" }],
    [{ path: "panel.cloths", patch: "B" }, { mode: "cloth", letter: "B" }],
    [{ path: "cloths" }, { mode: "cloth", letter: null }],
    [{ path: "panel.grounds.A.kind" }, { mode: "ground", letter: "A" }],
    [{ path: "panel.ground.spacing" }, { mode: "ground", letter: null }],
    [{ path: "panel.lettering[2].at" }, { mode: "laid", thing: { kind: "lettering", number: 2 } }],
    [{ path: "panel.placed[1].file" }, { mode: "laid", thing: { kind: "placed", number: 1 } }],
    [{ path: "panel.accents" }, { mode: "laid", thing: { kind: "accents", number: 1 } }],
    [{ path: "guides.hold" }, { mode: "thread" }],
  ];
  for (const [finding, spot] of cases) assert.deepEqual(spotOf(finding), spot, finding.path);
});

test("what is mended elsewhere leads nowhere", () => {
  for (const path of ["panel.patchwork.cuts[2]", "hoop.field", "panel.outline.width", "", null, undefined]) assert.equal(spotOf({ path, patch: "A" }), null);
});

const meant = (press) => meantBy({ mode: "cloth", by: "mouse", thing: null, letter: "B", seam: null, ...press }).map((m) => `${m.kind} ${m.key}`);
const seam = (far) => ({ number: 3, far });

test("a press beside a seam means the piece, and the seam may be taken instead", () => {
  assert.deepEqual(meant({ seam: seam(3) }), ["seam 3", "patch B"]);
  assert.deepEqual(meant({ seam: seam(8) }), ["patch B", "seam 3"]);
  assert.deepEqual(meant({ seam: seam(20) }), ["patch B"]);
  assert.deepEqual(meant({ by: "touch", seam: seam(12) }), ["patch B", "seam 3"]);
  assert.deepEqual(meant({ by: "touch", seam: seam(5) }), ["seam 3", "patch B"]);
  assert.deepEqual(meant({ by: "", seam: seam(20) }), ["patch B"]);
});

test("while seams are chosen the near one is meant; while things are moved nothing else is", () => {
  assert.deepEqual(meant({ mode: "seam", by: "touch", seam: seam(30), thing: "lettering 1" }), ["seam 3", "thing lettering 1", "patch B"]);
  assert.deepEqual(meant({ mode: "ground", thing: "accents 2", seam: seam(1) }), ["thing accents 2", "seam 3", "patch B"]);
  assert.deepEqual(meant({ mode: "laid", thing: "accents 2", seam: seam(1) }), ["thing accents 2"]);
  assert.deepEqual(meant({ mode: "laid", seam: seam(1) }), []);
});
