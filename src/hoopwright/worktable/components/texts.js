// All words of the page come from the catalogue in worktable/texts; t("totals.metres", { metres: 3 }) fills in {metres}.
import { reactive } from "vue";
import { ask } from "/parts/ask.js";
import { speakIn } from "/parts/measures.js";

const KEPT = "hoopwright.language";
const state = reactive({ language: "en", languages: [], words: {} });

export const texts = state;

speakIn(() => state.language);

export async function loadTexts(wanted = null) {
  const language = wanted ?? localStorage.getItem(KEPT) ?? navigator.language.slice(0, 2);
  const said = await ask(`/api/texts/${encodeURIComponent(language)}`);
  Object.assign(state, said);
  document.documentElement.lang = said.language;
  if (wanted !== null) localStorage.setItem(KEPT, wanted);
}

/** @param {string} key @param {Record<string, string | number>} values */
export function t(key, values = {}) {
  const text = state.words[key] ?? key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

/** One or many: tn("totals.pieces", 1) takes totals.pieces.one, any other number totals.pieces.many. @param {string} key @param {number} n */
export const tn = (key, n, values = {}) => t(`${key}.${n === 1 ? "one" : "many"}`, { n, ...values });
