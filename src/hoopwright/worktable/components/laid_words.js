// What a thing on the panel is called.
import { modelOf } from "/parts/laid.js";
import { t } from "/parts/texts.js";

/** @param {{ kind: string, number: number }} thing @param {any} panel of the project */
export function titleOf(thing, panel) {
  const model = modelOf(panel, thing);
  if (!model) return "";
  if (thing.kind === "lettering") return t("laid.letters.of", { text: model.lines.join(" / ") });
  if (thing.kind === "placed") return t("laid.stitches.of", { file: model.file });
  const alike = (/** @type {any[]} */ accents) => accents.filter((a) => a.motif === model.motif).length;
  const name = t(`motif.${model.motif}`);
  return alike(panel.accents) > 1 ? `${name} ${alike(panel.accents.slice(0, thing.number))}` : name;
}
