// The settings of a recipe as fields of a form: what stands in them at first, what is wrong, what is sent.
import { bare, bound, decimal, length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

/** @typedef {{ name: string, kind: string, usual: any, choices?: string[], least?: number, most?: number, above?: number, below?: number, fine?: boolean, count?: number, example?: number[], bounds?: Bounds[] }} Row */
/** @typedef {{ least?: number, most?: number, above?: number, below?: number }} Bounds */
/** @typedef {"mm" | "in"} Units */

/** Settings that say how large the work is, or what it is; the rest is folded away. */
const MAIN = new Set(
  "contents width height length thickness way shape count motif size lines frame_shape frame_width frame_arm depth flap pocket strap pieced stiffened edge base".split(" "),
);
const MOST_OPEN = 9;
const PLACES = 3;

/** The rows in two groups: those that are asked, those that are folded away. @param {Row[]} rows */
export function grouped(rows) {
  const main = rows.filter((row) => MAIN.has(row.name)).slice(0, MOST_OPEN);
  const rest = rows.filter((row) => !main.includes(row));
  return [
    { key: "main", rows: main, folded: false },
    { key: "rest", rows: rest, folded: true },
  ].filter((g) => g.rows.length);
}

/** What stands in a field at first, or between which limits it may be. @param {Row} row @param {Units} units @param {"value" | "limits"} what */
export function shown(row, units, what = "value") {
  if (what === "limits") return limitsOf(row, units);
  if (row.kind === "flag") return Boolean(row.usual);
  if (row.kind === "choice") return row.usual ?? "";
  if (row.kind === "texts") return (row.usual ?? []).join("\n");
  if (row.kind === "lengths") return Array.from({ length: row.count ?? 0 }, (_, i) => (row.usual ? length(row.usual[i], units) : ""));
  if (row.usual === null) return "";
  return row.kind === "length" ? length(row.usual, units) : decimal(row.usual, PLACES);
}

/** Letters a title may have. */
export const LONGEST_TITLE = 120;

/** What is wrong with a title, as a word of the catalogue; null for nothing. @param {string} title */
export function titleTrouble(title) {
  if (!title.trim()) return "shelf.title.none";
  return title.trim().length > LONGEST_TITLE ? "shelf.title.long" : null;
}

/** One length of a row of them, as a setting of its own. @param {Row} row @param {number} i @returns {Row} */
export const partOf = (row, i) => ({ name: row.name, kind: "length", usual: null, ...row.bounds?.[i] });

/** @param {Row} row @param {Units} units */
function limitsOf(row, units) {
  const say = (/** @type {number} */ v, /** @type {"least" | "most"} */ which) => (row.kind === "length" ? bound(v, units, which, row.fine ? 2 : 1) : decimal(v, PLACES));
  const least = row.least ?? row.above;
  const most = row.most ?? row.below;
  if (!["length", "whole", "number"].includes(row.kind) || most === undefined) return "";
  return least ? t("shelf.limits", { least: bare(say(least, "least")), most: say(most, "most") }) : t("shelf.limits.most", { most: say(most, "most") });
}

/** The number in a field; null for none, NaN for what is no number. @param {Row} row @param {string} text @param {Units} units */
function numberIn(row, text, units) {
  if (!text.trim()) return null;
  if (row.kind === "length" || row.kind === "lengths") return readLength(text, units) ?? NaN;
  const value = Number(text.trim().replace(",", "."));
  return row.kind === "whole" && !Number.isInteger(value) ? NaN : value;
}

/** Whether a number lies outside the limits of its setting. @param {Bounds} row @param {number} value */
function outside(row, value) {
  const slack = 1e-6;
  return (
    value < (row.least ?? -Infinity) - slack ||
    value > (row.most ?? Infinity) + slack ||
    value <= (row.above ?? -Infinity) ||
    value >= (row.below ?? Infinity)
  );
}

/** Whether a field holds what the setting cannot be. @param {Row} row @param {any} value @param {Units} units */
export function wrongOf(row, value, units) {
  if (row.kind === "lengths") {
    const found = value.map((/** @type {string} */ text) => numberIn(row, text, units));
    const empty = found.every((/** @type {number | null} */ v) => v === null);
    return !empty && found.some((/** @type {number | null} */ v, /** @type {number} */ i) => v === null || !(v >= 0) || outside(row.bounds?.[i] ?? {}, v));
  }
  if (!["length", "whole", "number"].includes(row.kind)) return false;
  const number = numberIn(row, value, units);
  if (number === null) return row.usual !== null;
  return Number.isNaN(number) || outside(row, number);
}

/** Whether inches were written where only millimetres make sense; what is written, as a number. @param {Row} row @param {string} text @param {Units} units */
export function meantMm(row, text, units) {
  const plain = units === "in" && /^\d+([.,]\d+)?$/.test(text.trim()) ? text.trim() : "";
  return plain && wrongOf(row, plain, "in") && !wrongOf(row, plain, "mm") ? plain : null;
}

/** The settings that are not the usual ones, as the project file takes them. @param {Row[]} rows @param {Record<string, any>} values @param {Units} units */
export function changedOf(rows, values, units) {
  const changed = rows.filter((row) => JSON.stringify(values[row.name]) !== JSON.stringify(shown(row, units)));
  const entries = changed.map((row) => [row.name, sent(row, values[row.name], units)]);
  return Object.fromEntries(entries.filter(([, value]) => value !== null && value !== ""));
}

/** A value as the project file takes it, null for nothing. @param {Row} row @param {any} value @param {Units} units */
export function sent(row, value, units) {
  if (row.kind === "texts") return value.split("\n").map((/** @type {string} */ x) => x.trim()).filter(Boolean);
  if (row.kind === "lengths") return value.every((/** @type {string} */ x) => !x.trim()) ? null : value.map((/** @type {string} */ x) => measured(x, units));
  if (row.kind === "length") return value.trim() ? measured(value, units) : null;
  if (row.kind === "whole" || row.kind === "number") return numberIn(row, value, units);
  return value;
}

/** A length as the file has it: a number of mm, or inches as they were written. @param {string} text @param {Units} units */
function measured(text, units) {
  const plain = text.trim().replace(",", ".");
  if (units === "mm") return readLength(plain, "mm");
  return /[a-z"]$/.test(plain) ? plain.replace(/\s*("|inches|inch|zoll)$/i, " in") : `${plain} in`;
}
