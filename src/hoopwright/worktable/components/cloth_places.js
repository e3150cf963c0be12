// Where on this screen a finding is mended. Pure, no page.
import { EDGE } from "/parts/cloth_changes.js";
import { thingAt } from "/parts/laid.js";

/** @typedef {{ mode: "cloth" | "seam" | "ground" | "thread" | "laid", letter?: string | null, seam?: number | null, thing?: import("/parts/laid.js").Thing | null }} Spot */
/** @typedef {{ kind: "thing" | "seam" | "patch", key: string | number }} Meant */

/** What to show for a finding; null: nothing of it is mended here. @param {{ path?: string | null, patch?: string | null }} finding @returns {Spot | null} */
export function spotOf({ path, patch }) {
  const [top, part, key] = (path ?? "").split(".");
  const letter = patch ?? null;
  if (top === "threads" || top === "guides") return { mode: "thread" };
  if (top === "cloths") return { mode: "cloth", letter };
  const thing = thingAt(path);
  if (thing) return { mode: "laid", thing };
  if (top !== "panel") return null;
  if (part === "cloths") return { mode: "cloth", letter: key ?? letter };
  if (part === "seams") return { mode: "seam", seam: Number(key) || null };
  if (part === "seam_stitch") return { mode: "seam", seam: null };
  if (part === "edge_stitch") return { mode: "seam", seam: EDGE };
  if (part === "grounds") return { mode: "ground", letter: key ?? letter };
  return part === "ground" ? { mode: "ground", letter: null } : null;
}

/** Pixels of a seam's own band, within which a press means the seam and not the piece. */
const BAND = { mouse: 5, pen: 5, touch: 6 };
/** Pixels within which a seam may have been meant. */
const REACH = { mouse: 9, pen: 10, touch: 18 };

/**
 * What a press on the panel may mean, the likeliest first. A narrow piece is a piece wherever the press is not in the seam's own band;
 * while seams are chosen, the seam that is near is meant.
 * @param {{ mode: string, by: string, thing: string | null, letter: string | null, seam: { number: number, far: number } | null }} press `far` in pixels
 * @returns {Meant[]}
 */
export function meantBy({ mode, by, thing, letter, seam }) {
  const reach = REACH[/** @type {keyof typeof REACH} */ (by)] ?? REACH.mouse;
  const band = BAND[/** @type {keyof typeof BAND} */ (by)] ?? BAND.mouse;
  const near = seam !== null && seam.far <= (mode === "seam" ? 2 * reach : reach);
  /** @type {[boolean, Meant, number][]} */
  const all = [
    [thing !== null, { kind: "thing", key: thing ?? "" }, mode === "seam" ? 2 : 0],
    [near, { kind: "seam", key: seam?.number ?? 0 }, mode === "seam" || (seam?.far ?? 0) <= band ? 1 : 3],
    [letter !== null, { kind: "patch", key: letter ?? "" }, mode === "seam" ? 3 : 2],
  ];
  const found = all.filter(([there]) => there).sort((a, b) => a[2] - b[2]).map(([, meant]) => meant);
  return mode === "laid" ? found.filter((m) => m.kind === "thing") : found;
}
