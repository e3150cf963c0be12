import assert from "node:assert/strict";
import test from "node:test";

const { boxOf, DrawPanels } = await import("/parts/draw_panels.js");
const { texts } = await import("/parts/texts.js");

const panel = (key, wide) => ({ key, outline: [[-wide / 2, -20], [wide / 2, -20], [0, 25]], patches: [] });

test("a panel lies in its small picture with room all round, up as up", () => {
  assert.deepEqual(boxOf(panel("front", 60).outline), [-33, -28, 66, 51]);
});

test("one panel needs no such picture, two are shown both and named", () => {
  Object.assign(texts, { language: "en", words: { "panel.front": "front", "panel.back": "back" } });
  const { panels, names } = DrawPanels.computed;
  const shown = (list) => {
    const at = { view: { panels: list }, name: DrawPanels.methods.name };
    return [(at.panels = panels.call(at)).length, names.call(at)];
  };
  assert.deepEqual(shown([panel("front", 60)]), [0, ""]);
  assert.deepEqual(shown([panel("front", 60), panel("back", 60)]), [2, "front and back"]);
  assert.deepEqual(shown([panel("front", 60), panel("lid", 60)]), [2, "front and lid"]);
});
