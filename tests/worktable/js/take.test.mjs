import assert from "node:assert/strict";
import test from "node:test";
import { addressOf, cutOf, inFileOnly, screenOf } from "/parts/take_places.js";
import { again, besides, grouped, hours, sentence, size, threadLength } from "/parts/take_rows.js";

const finding = (more = {}) => ({ code: "HW601", severity: "blocks", message: "It reaches 3 mm too far", cure: "Make it smaller", path: null, patch: null, point: null, step: null, hooping: null, ...more });

test("a finding leads to the screen on which its place is", () => {
  const cases = [
    [{ path: "panel.patchwork.cuts[3]" }, "draw"],
    [{ path: "panel.outline.width" }, "draw"],
    [{ path: "panel.cloths.A", patch: "A" }, "cloth"],
    [{ path: "panel.seams.4.width" }, "cloth"],
    [{ path: "threads.red" }, "cloth"],
    [{ path: "machine.kinds" }, "take"],
    [{ path: "machine.halt_at" }, "take"],
    [{ path: "hoop.field" }, "take"],
    [{ path: "machine.speed" }, "habits"],
    [{ path: "hoop.margin" }, "habits"],
    [{ path: "foundation.batting" }, "habits"],
    [{ path: "stitching.run" }, "habits"],
    [{ path: "make.contents[3]" }, "draw"],
    [{ path: "panel.turn" }, "draw"],
    [{ path: "panel.lettering[1].width" }, "cloth"],
    [{ path: "piecing.allowance", patch: "B" }, "habits"],
    [{ path: "paper" }, "take"],
    [{ patch: "B", hooping: "panel", step: 4 }, "draw"],
    [{ hooping: "panel", step: 4, point: [1, 2] }, "sew"],
    [{ hooping: "panel", step: 0 }, "sew"],
    [{ point: [1, 2] }, "draw"],
    [{}, null],
    [{ path: "something.else" }, null],
  ];
  for (const [where, screen] of cases) assert.equal(screenOf(finding(where)), screen, JSON.stringify(where));
});

test("a setting that no screen has is told by its place in the file", () => {
  assert.equal(inFileOnly(finding({ path: "panel.wishes.few_turns" })), true);
  assert.equal(inFileOnly(finding({ path: "piecing.allowance" })), false);
  assert.equal(inFileOnly(finding({ path: "panel.seams.4" })), false);
  assert.equal(inFileOnly(finding({ patch: "A" })), false);
});

test("names of projects are safe in addresses", () => {
  assert.equal(addressOf("a b/c", "draw"), "/project/a%20b%2Fc/draw");
});

test("findings in groups: gravest first, a cure told once, none lost", () => {
  const rows = [finding({ severity: "notes", code: "HW806" }), finding({ message: "one" }), finding({ message: "two" }), finding({ severity: "warns", cure: "" }), finding({ message: "three", cure: "Another" })];
  const groups = grouped(rows);
  assert.deepEqual(groups.map((g) => [g.severity, g.count, g.cards.length]), [["blocks", 3, 2], ["warns", 1, 1], ["notes", 1, 1]]);
  assert.deepEqual(groups[0].cards[0].rows.map((r) => r.message), ["one", "two"]);
  assert.equal(groups.flatMap((g) => g.cards.flatMap((c) => c.rows)).length, rows.length);
  assert.deepEqual(grouped([]), []);
});

test("the chosen finding is known again when its figures changed, not when its place did", () => {
  const chosen = finding({ path: "panel.seams.4", message: "It reaches 3 mm too far" });
  const later = finding({ path: "panel.seams.4", message: "It reaches 2 mm too far" });
  const other = finding({ path: "panel.seams.5" });
  assert.equal(again([other, later], chosen), later);
  assert.equal(again([later, { ...chosen }], chosen).message, chosen.message);
  assert.equal(again([other], chosen), null);
  assert.equal(again([other], null), null);
});

test("what was found only while making", () => {
  const known = finding();
  const fresh = finding({ code: "HW806", message: "Other" });
  assert.deepEqual(besides([{ ...known }, fresh], [known]), [fresh]);
});

test("sizes, times, thread", () => {
  assert.equal(size(0, "en"), "1 kB");
  assert.equal(size(27_882, "en"), "28 kB");
  assert.equal(size(3_640_000, "de"), "3,6 MB");
  assert.deepEqual(hours(26.2), [0, 27]);
  assert.deepEqual(hours(89.5), [1, 30]);
  assert.deepEqual(hours(120), [2, 0]);
  assert.equal(threadLength(3.1, "mm", "de"), "3,5 m");
  assert.equal(threadLength(4, "mm", "en"), "4 m");
  assert.equal(threadLength(9.144, "in", "en"), "9.5 m (11 yd)");
});

test("sentences end once", () => {
  assert.equal(sentence("Mend it"), "Mend it.");
  assert.equal(sentence("Mend it."), "Mend it.");
  assert.equal(sentence(null), "");
});

test("a finding about a cut leads to that cut", () => {
  assert.equal(cutOf(finding({ path: "panel.patchwork.cuts[3]" })), 2);
  assert.equal(cutOf(finding({ path: "panel.patchwork.lines[12][1]" })), 11);
  assert.equal(cutOf(finding({ path: "panel.patchwork.gap" })), null);
  assert.equal(cutOf(null), null);
});
