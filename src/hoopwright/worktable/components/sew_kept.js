// Where the player was, kept in this window for each project: it is there again after a look at another screen, and after the page
// is loaded anew. Moments are known by what is done in them, not by their number in the row: the project may change meanwhile.

import { again, sizeOf, TEMPOS } from "/parts/player_timing.js";

const KEY = "hoopwright.sew.";
/** What can be kept beside the place. @type {Record<string, any[]>} */
const WAYS = {
  tempo: TEMPOS.map((row) => row.name),
  waits: [false, true],
  side: ["top", "under"],
  chart: ["none", "thick", "holes"],
  marks: [true, false],
  marksSeen: [false, true],
};
const SAME = /** @type {const} */ (["kind", "number", "work", "piece"]);

/** @typedef {{ hooping: string, kind: string, number: number, work?: string, piece?: string, nth: number, size: number, part: number }} KeptPlace */

const like = (m, one) => m.hooping === one.hooping && SAME.every((k) => m[k] === one[k]);

/** @param {any[]} moments @param {{ key: string }[]} sheets @param {{ at: number, part: number }} place @returns {KeptPlace | null} */
export function kept(moments, sheets, { at, part }) {
  const m = moments[at];
  if (!m) return null;
  const nth = moments.slice(0, at).filter((other) => like(other, m)).length;
  return { hooping: sheets[m.hooping].key, ...Object.fromEntries(SAME.map((k) => [k, m[k]])), nth, size: sizeOf(m), part };
}

/** The same place on the sheets as they are now, to the stitch where the block still has as many; or the nearest before it. @param {any[]} moments @param {{ key: string }[]} sheets @param {KeptPlace} was */
export function found(moments, sheets, was) {
  const hooping = sheets.findIndex((s) => s.key === was.hooping);
  if (hooping < 0) return { at: 0, part: 0 };
  const one = { ...was, hooping };
  const there = moments.flatMap((m, at) => (like(m, one) ? [at] : []));
  const at = there[Math.min(was.nth, there.length - 1)];
  if (at === undefined) return again([one], moments, { at: 0, part: 0 });
  return { at, part: sizeOf(moments[at]) === was.size ? was.part : 0 };
}

/** Of what was kept, or of a screen, the ways of looking that there are. @param {any} from @returns {Record<string, any>} */
export const ways = (from) => Object.fromEntries(Object.entries(WAYS).flatMap(([way, known]) => (known.includes(from?.[way]) ? [[way, from[way]]] : [])));

/** @param {string} name @param {any} what */
export function keepInWindow(name, what) {
  try {
    sessionStorage.setItem(KEY + name, JSON.stringify(what));
  } catch {
    // a full or closed storage: the place is not kept
  }
}

/** @param {string} name @returns {any} null when nothing is kept */
export function fromWindow(name) {
  try {
    return JSON.parse(sessionStorage.getItem(KEY + name) ?? "null");
  } catch {
    return null;
  }
}
