// Where on this screen a finding is mended. Pure, no page.
import { EDGE } from "/parts/cloth_changes.js";

/** @typedef {{ mode: "cloth" | "seam" | "ground" | "thread", letter?: string | null, seam?: number | null }} Spot */

/** What to show for a finding; null: nothing of it is mended here. @param {{ path?: string | null, patch?: string | null }} finding @returns {Spot | null} */
export function spotOf({ path, patch }) {
  const [top, part, key] = (path ?? "").split(".");
  const letter = patch ?? null;
  if (top === "threads" || top === "guides") return { mode: "thread" };
  if (top === "cloths") return { mode: "cloth", letter };
  if (top !== "panel") return null;
  if (part === "cloths") return { mode: "cloth", letter: key ?? letter };
  if (part === "seams") return { mode: "seam", seam: Number(key) || null };
  if (part === "seam_stitch") return { mode: "seam", seam: null };
  if (part === "edge_stitch") return { mode: "seam", seam: EDGE };
  if (part === "grounds") return { mode: "ground", letter: key ?? letter };
  return part === "ground" ? { mode: "ground", letter: null } : null;
}
