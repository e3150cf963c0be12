import assert from "node:assert/strict";
import test from "node:test";
import { when } from "/parts/moments_said.js";
import { matching } from "/parts/shelf_words.js";
import { texts } from "/parts/texts.js";
import { lineOf } from "/parts/versions.js";

texts.words = { "when.now": "now", "when.today": "today, {clock}", "when.yesterday": "yesterday, {clock}", "recipe.mat": "Untersetzer" };
const at = (...parts) => new Date(...parts).getTime();
const said = (then, now) => when(then / 1000, now, "en-GB");

test("when something was changed is said as people say it", () => {
  const now = at(2026, 4, 12, 9, 30);
  assert.equal(said(now - 20_000, now), "now");
  assert.equal(said(now + 20_000, now), "now");
  assert.equal(said(now - 12 * 60_000, now), "12 minutes ago");
  assert.equal(said(at(2026, 4, 12, 8, 5), now), "today, 8:05");
  assert.equal(said(at(2026, 4, 11, 23, 59), now), "yesterday, 23:59");
  assert.equal(said(at(2026, 2, 3, 10, 0), now), "3 March 2026");
});

test("a day of 23 or 25 hours is a day", () => {
  for (const [month, day] of [[2, 29], [9, 25]]) assert.match(said(at(2026, month, day, 12), at(2026, month, day + 1, 12)), /^yesterday/);
});

test("the line of a version leads back to the first; a spoilt list ends it", () => {
  const rows = [0, 1, 2, 3].map((n) => ({ number: n, parent: n === 3 ? 1 : n ? n - 1 : null }));
  assert.deepEqual([...lineOf(rows, 3)], [3, 1, 0]);
  assert.deepEqual([...lineOf([{ number: 1, parent: 2 }, { number: 2, parent: 1 }], 1)], [1, 2]);
});

test("a project is found by the words of its title and its kind, large or small", () => {
  const projects = [{ title: "Tide mat", item: "mat" }, { title: "Reed bookmark", item: "bookmark" }];
  const found = (sought) => matching(projects, sought, "en").map((p) => p.title);
  assert.deepEqual(found("  "), ["Tide mat", "Reed bookmark"]);
  assert.deepEqual(found("TIDE unter"), ["Tide mat"]);
  assert.deepEqual(found("tide reed"), []);
});
