import assert from "node:assert/strict";
import test from "node:test";
import { gathered } from "/parts/cloth_contrast.js";

const cloths = (patches, of) => ({ way: "cloths", patches, cloths: of, apart: 3, plain: 15, at: [0, 0] });
const thread = (seam, name, cloth) => ({ way: "thread", seam, thread: name, patches: ["A"], cloths: [cloth], apart: 9, plain: 15, at: [0, 0] });

test("one thing is said once, with all its places", () => {
  const groups = gathered([cloths(["A", "B"], ["tar", "oak"]), cloths(["B", "C"], ["oak", "tar"]), cloths(["C", "D"], ["tar", "tar"]), thread(4, "chalk", "oak"), thread(2, "chalk", "oak"), thread(2, "chalk", "tar"), thread(2, "slate", "oak")]);
  assert.deepEqual(groups.map((g) => [g.way, g.rows.length]), [["cloths", 2], ["cloths", 1], ["thread", 2], ["thread", 1], ["thread", 1]]);
  assert.deepEqual(groups[0].pairs, [["A", "B"], ["C", "B"]], "the first of each pair is of the first cloth");
  assert.deepEqual(groups[2].seams, [2, 4]);
  assert.equal(new Set(groups.map((g) => g.key)).size, groups.length);
});

test("nothing is nothing", () => assert.deepEqual(gathered([]), []));
