import assert from "node:assert/strict";
import test from "node:test";
import { alone, toggled } from "/parts/take_kinds.js";

const ALL = ["dst", "exp", "pes", "jef", "vp3"];

test("one press leaves a kind out, another takes it again, where it belongs", () => {
  assert.deepEqual(toggled(ALL, ["dst", "pes", "jef"], "jef"), ["dst", "pes"]);
  assert.deepEqual(toggled(ALL, ["vp3", "dst"], "pes"), ["dst", "pes", "vp3"]);
});

test("the last kind stays", () => {
  assert.deepEqual(toggled(ALL, ["pes"], "pes"), ["pes"]);
  assert.ok(alone(["pes"], "pes"));
  assert.ok(!alone(["pes", "dst"], "pes") && !alone(["dst"], "pes"));
});
