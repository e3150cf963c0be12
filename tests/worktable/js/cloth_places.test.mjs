import assert from "node:assert/strict";
import test from "node:test";
import { spotOf } from "/parts/cloth_places.js";

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
    [{ path: "guides.hold" }, { mode: "thread" }],
  ];
  for (const [finding, spot] of cases) assert.deepEqual(spotOf(finding), spot, finding.path);
});

test("what is mended elsewhere leads nowhere", () => {
  for (const path of ["panel.patchwork.cuts[2]", "hoop.field", "panel.outline.width", "", null, undefined]) assert.equal(spotOf({ path, patch: "A" }), null);
});
