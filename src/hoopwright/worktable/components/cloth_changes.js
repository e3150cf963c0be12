// What to write into the project file for cloths, threads, seam stitches and grounds. Pure, no page.

/** @typedef {{ path: string, value: any }} Change */

const SEAM = { stitch: "feather", thread: null, width: null, repeat: null, mirror: false, turn: false, sides: null, spacing: 0, weight: "bold", ease: 0, taper: 0, over: null };
const ROW = { stitch: "zigzag-coral", thread: null, width: null, repeat: null, mirror: false, turn: false, sides: null, spacing: 0, weight: "bold" };
const GROUND = { kind: "none", spacing: null, margin: 2, angle: null, seed: 1, thread: null, times: 1, file: null };

const EDGE_ROW = { ...SEAM, distance: 3 };

/** Stands for the row along the outline, as in the engine: seams count from 1. */
export const EDGE = 0;

/** A model without what the file need not say. `always` stays. @param {Record<string, any>} model @param {Record<string, any>} usual @param {string} always */
export function lean(model, usual, always) {
  const kept = Object.entries(model).filter(([k, v]) => v !== null && v !== undefined && (k === always || v !== usual[k]));
  return Object.fromEntries(kept.map(([k, v]) => [k, k === "over" ? lean(v, ROW, "stitch") : v]));
}

/** What holds for a seam; null: for all that have nothing of their own. @param {any} panel @param {number | null} seam */
export function seamModel(panel, seam) {
  if (seam === EDGE) return panel.edge_stitch ?? { ...EDGE_ROW, stitch: "none" };
  return (seam === null ? null : panel.seams[String(seam)]) ?? panel.seam_stitch;
}

/** The thread of a seam, also when the file names none. @param {any} project @param {number | null} seam */
export const seamThread = (project, seam) => seamModel(project.panel, seam).thread ?? project.panel.seam_stitch.thread ?? Object.keys(project.threads)[0];

/** Give a seam, or all, new values; null takes one out. A seam that followed the others gets all of theirs first. @param {any} panel @param {number | null} seam @param {Record<string, any>} values @returns {Change[]} */
export function seamChanges(panel, seam, values) {
  if (seam === EDGE) return edgeChanges(panel, values);
  const own = seam === null || String(seam) in panel.seams;
  const path = seam === null ? "panel.seam_stitch" : `panel.seams.${seam}`;
  if (own) return parts(path, values);
  return [{ path, value: lean({ ...panel.seam_stitch, ...values }, SEAM, "stitch") }];
}

/** @returns {Change[]} */
function edgeChanges(panel, values) {
  const path = "panel.edge_stitch";
  if (values.stitch === "none") return panel.edge_stitch ? [{ path, value: null }] : [];
  return panel.edge_stitch ? parts(path, values) : [{ path, value: lean({ ...EDGE_ROW, ...values }, EDGE_ROW, "stitch") }];
}

/** Give the row over a seam's new values; null: no such row. @param {any} panel @param {number | null} seam @param {Record<string, any> | null} values @returns {Change[]} */
export function overChanges(panel, seam, values) {
  const over = seamModel(panel, seam).over;
  const value = values === null ? null : lean({ ...(over ?? ROW), ...values }, ROW, "stitch");
  return seamChanges(panel, seam, { over: value });
}

/** Let a seam follow the others again. @param {number} seam @returns {Change[]} */
export const seamFollows = (seam) => [{ path: `panel.seams.${seam}`, value: null }];

/** Let all seams follow. @param {any} panel @returns {Change[]} */
export const allFollow = (panel) => Object.keys(panel.seams).map((n) => ({ path: `panel.seams.${n}`, value: null }));

/** @param {any} panel @param {string | null} letter */
export const groundModel = (panel, letter) => (letter === null ? null : panel.grounds[letter]) ?? panel.ground;

/** Give a piece, or the whole panel (null), new values of its ground. @param {any} panel @param {string | null} letter @param {Record<string, any>} values @returns {Change[]} */
export function groundChanges(panel, letter, values) {
  const path = letter === null ? "panel.ground" : `panel.grounds.${letter}`;
  if (letter === null || letter in panel.grounds) return parts(path, values);
  return [{ path, value: lean({ ...panel.ground, ...values }, GROUND, "kind") }];
}

/** Let a piece have the ground of the panel again. @param {string} letter @returns {Change[]} */
export const groundFollows = (letter) => [{ path: `panel.grounds.${letter}`, value: null }];

/** @returns {Change[]} */
const parts = (path, values) => Object.entries(values).map(([key, value]) => ({ path: `${path}.${key}`, value }));

/** A key for a new cloth or thread, made from its name. @param {string} name @param {string[]} taken */
export function freeKey(name, taken) {
  const plain = name.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const slug = plain.replace(/[^a-z0-9]+/g, "-").replace(/^[^a-z]+|-+$/g, "").slice(0, 30).replace(/-+$/, "") || "new";
  for (let n = 1; ; n++) {
    const key = n === 1 ? slug : `${slug}-${n}`;
    if (!taken.includes(key)) return key;
  }
}

/** Where a cloth is used: pieces of the panel by their letters, other parts of the item, and whether it is the last of all. @param {any} project @param {any} view @param {string} key */
export function usesOfCloth(project, view, key) {
  const given = Object.entries(project.panel.cloths).filter(([, cloth]) => cloth === key).map(([letter]) => letter);
  const shown = (view?.panels ?? []).flatMap((p) => p.patches).filter((p) => p.cloth === key).map((p) => p.letter);
  const patches = [...new Set([...given, ...shown])].sort();
  const cut = (view?.totals.cloths ?? []).some(([cloth]) => cloth === key);
  const made = holds(project.make, key);
  const kind = project.cloths[key]?.kind ?? "cloth";
  const last = Object.values(project.cloths).filter((c) => c.kind === kind).length === 1 && kind === "cloth";
  return { patches, parts: made || (cut && !shown.length), last };
}

/** Where a thread is used: "all" seams, "seams", "ground", "guides", "more", or as the "first", which the rest is sewn with. @param {any} project @param {any} view @param {string} key @returns {string[]} */
export function usesOfThread(project, view, key) {
  const { panel, guides } = project;
  const seam = (row) => row && (row.thread === key || row.over?.thread === key);
  const found = [];
  if (seam(panel.seam_stitch)) found.push("all");
  if (Object.values(panel.seams).some(seam)) found.push("seams");
  if ([panel.ground, ...Object.values(panel.grounds)].some((g) => g.thread === key)) found.push("ground");
  if (Object.values(guides).includes(key)) found.push("guides");
  const more = [panel.edge_stitch, ...panel.lettering, ...panel.placed, ...panel.accents];
  if (more.some((row) => seam(row) || row?.threads?.includes(key)) || holds(project.make, key)) found.push("more");
  if (!found.length && (view?.totals.threads ?? []).some(([thread]) => thread === key)) found.push("first");
  return found;
}

/** Whether a setting of the item names a key. @returns {boolean} */
const holds = (value, key) => (value && typeof value === "object" ? Object.values(value).some((v) => holds(v, key)) : value === key);
