// Where a finding shows its place: on which screen, and how the page goes there.

/** Settings of the project file by the screen on which they are changed; the longest that fits counts. */
const SETTINGS = {
  title: "draw",
  make: "draw",
  "hoop.field": "take",
  hoop: "habits",
  machine: "habits",
  foundation: "habits",
  piecing: "habits",
  stitching: "habits",
  "machine.kinds": "take",
  "machine.halt_at": "take",
  paper: "take",
  language: "take",
  units: "take",
  cloths: "cloth",
  threads: "cloth",
  guides: "cloth",
  "panel.outline": "draw",
  "panel.patchwork": "draw",
  "panel.order": "draw",
  "panel.first": "draw",
  "panel.turn": "draw",
  "panel.cloths": "cloth",
  "panel.seam_stitch": "cloth",
  "panel.seams": "cloth",
  "panel.edge_stitch": "cloth",
  "panel.ground": "cloth",
  "panel.grounds": "cloth",
  "panel.lettering": "cloth",
  "panel.placed": "cloth",
  "panel.accents": "cloth",
};

/**
 * @typedef {{ path?: string | null, patch?: string | null, point?: number[] | null, step?: number | null, hooping?: string | null }} Place
 */

/**
 * The screen that shows a finding's place, null for one without a place; "habits" is the sheet that opens on any of them.
 * @param {Place} row
 * @returns {"draw" | "cloth" | "sew" | "take" | "habits" | null}
 */
export function screenOf(row) {
  const set = settingOf(row.path ?? "");
  if (set && set !== "draw") return set;
  if (row.patch || set === "draw") return "draw";
  if (row.hooping || (row.step !== null && row.step !== undefined)) return "sew";
  return row.point ? "draw" : null;
}

/** Whether a finding tells of a setting that no screen changes: then its place in the project file helps. @param {Place} row */
export const inFileOnly = (row) => !!row.path && settingOf(row.path) === null;

/** @param {string} path */
function settingOf(path) {
  const names = path.replace(/\[\d+\]/g, "").split(".");
  for (let n = names.length; n > 0; n -= 1) {
    const screen = SETTINGS[names.slice(0, n).join(".")];
    if (screen) return screen;
  }
  return null;
}

/** The address of a screen. @param {string} name @param {string} screen */
export const addressOf = (name, screen) => `/project/${encodeURIComponent(name)}/${screen}`;

/** Go to a screen of the project in this window, as its own links do. @param {string} name @param {string} screen */
export function goTo(name, screen) {
  history.pushState({ found: true }, "", addressOf(name, screen));
  window.dispatchEvent(new PopStateEvent("popstate"));
  requestAnimationFrame(() => document.getElementById("screen")?.focus());
}

/** The cut or line, counted from 0, of which a finding tells; null for none. @param {Place | null} row @returns {number | null} */
export function cutOf(row) {
  const found = /^panel\.patchwork\.(?:cuts|lines)\[(\d+)\]/.exec(row?.path ?? "");
  return found ? Number(found[1]) - 1 : null;
}

/** Open the sheet of machine and habits, at the field of a place. @param {{ sheet: any }} store @param {string | null | undefined} place */
export function openHabits(store, place = null) {
  store.sheet = { place: place ? place.replace(/\[\d+\]/g, "").split(".").slice(0, 2).join(".") : null };
}
