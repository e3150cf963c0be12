import assert from "node:assert/strict";
import test from "node:test";
import { LONGEST_TITLE } from "/parts/shelf_form.js";
import { copyTitle, cutTo } from "/parts/shelf_words.js";
import { texts } from "/parts/texts.js";

texts.words = { "shelf.copy.title": "{title} (copy)" };
const letters = (text) => Array.from(text).length;

test("a text that fits stays as it is, a longer one is cut at whole letters and says so", () => {
  assert.equal(cutTo("Tide mill"), "Tide mill");
  assert.equal(cutTo("x".repeat(120)), "x".repeat(120));
  const cut = cutTo("🧵".repeat(121));
  assert.equal(cut, "🧵".repeat(119) + "…");
  assert.doesNotThrow(() => encodeURIComponent(cut)); // no half letter
});

test("the copy of a long title is shortened before the word for a copy, and is no longer than a title may be", () => {
  assert.equal(copyTitle("Tide mill flap"), "Tide mill flap (copy)");
  const copy = copyTitle("Flap for the shop of the tide mill ".repeat(4));
  assert.ok(copy.endsWith("… (copy)") && letters(copy) <= LONGEST_TITLE, copy);
  assert.ok(letters(copyTitle(copy)) <= LONGEST_TITLE);
  assert.ok(copyTitle(copy).endsWith("(copy)"));
});
