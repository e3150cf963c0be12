// Settings of a project under way: what stands in their fields, whether it is the usual, what is wrong, what is saved.
// Rows are those of the server: the item's own ("make.width"), and those of machine and habits ("machine.speed").
import { decimal, exact, length, readLength } from "/parts/measures.js";
import { sent, shown, wrongOf } from "/parts/shelf_form.js";
import { keysOf } from "/parts/waiting.js";

/** @typedef {import("/parts/shelf_form.js").Row & { path: string, sold?: { name: string, width: number, height: number }[] }} Row */
/** @typedef {"mm" | "in"} Units */

const LEAST_INCHES = 12; // mm from which a first project writes the usual lengths in inches
const GROUND_INSIDE = 3; // mm that the ground of a body stays inside its seam when nothing is said
const NUMBERS = ["length", "whole", "number", "share"];
/** How exactly a cloth is laid, on a good day and on a bad one: within so many mm and degrees (from memory). */
export const DAYS = { good: [1, 1], bad: [2, 3] };

/** The units in which a row is told: small lengths are mm to everybody. @param {{ fine?: boolean }} row @param {Units} units @returns {Units} */
export const unitsOf = (row, units) => (row.fine ? "mm" : units);

/** What stands at a place of the project; undefined for nothing. @param {any} project @param {string} path */
export const valueAt = (project, path) => keysOf(path).reduce((node, key) => (node === null || node === undefined ? undefined : node[key]), project);

/** The value of a row in mm, numbers and words, as the project has it: its usual one where nothing stands. @param {Row} row @param {any} project */
export const valueOf = (row, project) => read(row, valueAt(project, row.path));

/** A value as the file has it, in mm, numbers and words. @param {Row} row @param {any} value */
export function read(row, value) {
  if (value === undefined || value === null) return row.usual;
  if (row.kind === "length") return measured(value);
  if (row.kind === "lengths") return value.map(measured);
  if (row.kind === "ground") return groundOf(value);
  return value;
}

/** A length as the file has it, in mm; what cannot be read stays. @param {any} value */
const measured = (value) => (typeof value === "string" ? (readLength(value, "mm") ?? value) : value);

/** A ground as its settings: a mere distance means crossing lines so far apart, 0 none. @param {any} value @returns {{ kind: string, spacing?: any }} */
export function groundOf(value) {
  if (value !== null && typeof value === "object") return { margin: GROUND_INSIDE, ...value };
  const spacing = measured(value);
  return spacing ? { kind: "crosshatch", spacing, margin: GROUND_INSIDE } : { kind: "none" };
}

/** Whether a row has its usual value; one that was begun in inches has it to a sixteenth. @param {Row} row @param {any} project */
export function isUsual(row, project) {
  const value = valueOf(row, project);
  if (project.units === "in" && inSixteenths(row) && typeof value === "number") return length(value, "in") === length(row.usual, "in");
  return same(value, row.usual);
}

/** Whether the usual value of a row is told to the nearest sixteenth to makers who use inches. @param {Row} row */
const inSixteenths = (row) => row.kind === "length" && !row.fine && row.usual >= LEAST_INCHES;

/** The usual value of a row in words. @param {Row} row @param {Units} units */
export const usualSaid = (row, units) => (units === "in" && inSixteenths(row) ? length(row.usual, "in") : written(row, row.usual, units));

/** Whether two values say the same. @param {any} a @param {any} b @returns {boolean} */
export function same(a, b) {
  if (typeof a === "number" && typeof b === "number") return Math.abs(a - b) < 1e-6;
  if (a && b && typeof a === "object" && !Array.isArray(a)) return Object.keys({ ...a, ...b }).every((key) => same(a[key], b[key]));
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((x, i) => same(x, b[i]));
  return (a ?? null) === (b ?? null);
}

/** What stands in the field of a row: a text, a list of them, or yes and no. @param {Row} row @param {any} value @param {Units} units @returns {any} */
export function written(row, value, units) {
  if (row.kind === "length") return typeof value === "number" ? exact(value, unitsOf(row, units)) : (value ?? "");
  if (row.kind === "lengths") return Array.from({ length: row.count ?? 0 }, (_, i) => (value ? (typeof value[i] === "number" ? exact(value[i], units) : value[i]) : ""));
  if (row.kind === "share") return decimal(value * 100, 3);
  if (row.kind === "texts") return (value ?? []).join("\n");
  if (row.kind === "flag") return Boolean(value);
  if (NUMBERS.includes(row.kind)) return typeof value === "number" ? decimal(value, 3) : (value ?? "");
  return value ?? "";
}

/** Whether what stands in a field cannot be. An empty field goes back to what suits. @param {Row} row @param {any} text @param {Units} units */
export function isWrong(row, text, units) {
  if (typeof text === "string" && !text.trim()) return false;
  return wrongOf(row.kind === "share" ? inHundred(row) : row, text, unitsOf(row, units));
}

/** A share as a number of a hundred. @param {Row} row @returns {Row} */
const inHundred = (row) => ({ ...row, kind: "number", least: row.least && row.least * 100, most: row.most && row.most * 100, above: row.above === undefined ? undefined : row.above * 100 });

/** What a field saves: null takes the setting out of the file, so that it is as it suits. @param {Row} row @param {any} text @param {Units} units */
export function saved(row, text, units) {
  if (typeof text === "string" && !text.trim()) return null;
  if (row.kind === "text") return text.trim();
  if (row.kind === "share") return Math.round(sent(inHundred(row), text, units) * 1000) / 100_000;
  return sent(row, text, unitsOf(row, units));
}

/** Between which limits a row may be, as a sentence; empty for those without. @param {Row} row @param {Units} units @returns {string} */
export function limits(row, units) {
  return shown(row.kind === "share" ? inHundred(row) : row, unitsOf(row, units), "limits");
}

/** Which day the placing error is made for: "good", "bad" or "own". @param {any} project */
export function dayOf(project) {
  const { shift = 1, turn = 1 } = project.piecing ?? {};
  const found = Object.entries(DAYS).find(([, [mm, degrees]]) => mm === shift && degrees === turn);
  return found ? found[0] : "own";
}

/** The sold field of a size, null for one of the maker's own. @param {Row} row @param {number[]} size */
export const soldOf = (row, size) => row.sold?.find((f) => f.width === size[0] && f.height === size[1]) ?? null;

/** The size of a hoop's field in mm, whichever way it is written. @param {Row} row @param {any} value @returns {number[]} */
export function fieldSize(row, value) {
  const found = row.sold?.find((f) => f.name === value);
  if (found) return [found.width, found.height];
  return Array.isArray(value) ? value.map(measured) : String(value).split("x").map(Number);
}

/** The field of a hoop as the file has it: the name of one that is sold, else its size. @param {Row} row @param {number[]} size */
export const fieldSaved = (row, size) => soldOf(row, size)?.name ?? size.map((side) => Math.round(side * 100) / 100);
