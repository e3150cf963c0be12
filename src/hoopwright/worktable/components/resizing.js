// Sizes and outlines are changed together with the cuts, which are carried along; what came of it is told.
import { ask, of, Trouble } from "/parts/ask.js";
import { panelChanges } from "/parts/waiting.js";

/** @typedef {{ path: string, value: any }} Change */

/** Ask what belongs to changes of sizes. @param {string} name @param {Change[]} changes @returns {Promise<{ values: Record<string, any>, refused: any[], field: string | null }>} */
export const belonging = (name, changes) => ask(`${of(name)}/resize`, { changes });

/** Changes with the values that belong to them. @param {Change[]} changes @param {Record<string, any>} values @param {Record<string, any>} panel */
export const together = (changes, values, panel) => [...changes, ...panelChanges(values, panel)];

/**
 * Change sizes of a project with all that belongs to them. While the worktable does not answer, the change waits, and its cuts are
 * carried when it is sent. Returns what is to be told: why nothing was saved, or what became of the drawing.
 * @param {any} store @param {string} what @param {Change[]} changes
 * @returns {Promise<{ refused?: any, field?: string | null, said?: [string, Record<string, number>] | null }>}
 */
export async function resize(store, what, changes) {
  await store.saved(); // a cut whose change is still on its way is carried too
  if (store.waiting) return later(store, what, changes);
  const before = seen(store);
  let cuts = 0;
  try {
    const { values, refused, field } = await belonging(store.name, changes);
    if (refused.length) return { refused: refused[0], field };
    cuts = strokesOf(values.patchwork).length;
    await store.edit(what, together(changes, values, store.project.panel));
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    if (error.status !== 0) return { refused: error.findings?.[0] ?? error, field: null };
    return later(store, what, changes);
  }
  return { said: told(before, seen(store), cuts) };
}

/** Put a change of sizes after all that waits; its cuts are carried when it is sent. @param {any} store @param {string} what @param {Change[]} changes */
async function later(store, what, changes) {
  await store.edit(what, changes, "resize");
  return { said: store.waiting ? /** @type {[string, {}]} */ (["size.waits", {}]) : null };
}

/** @param {any} work */
const strokesOf = (work) => work?.cuts ?? work?.lines ?? [];

/** What is seen of the first panel. @param {any} store */
function seen(store) {
  const panel = store.view?.panels?.[0];
  const way = store.project?.panel.patchwork?.way ?? null;
  return { pieces: panel?.patches.length ?? 0, ring: JSON.stringify(panel?.outline ?? null), sound: Boolean(panel?.order.drawn), drawn: way !== null && way !== "cuts" && way !== "lines" };
}

/**
 * What became of the drawing, as words of the catalogue; null when nothing did.
 * @param {{ pieces: number, ring: string, sound: boolean, drawn: boolean }} before @param {{ pieces: number, ring: string, sound: boolean, drawn: boolean }} after @param {number} cuts that were carried
 * @returns {[string, Record<string, number>] | null}
 */
export function told(before, after, cuts) {
  if (before.ring === after.ring) return null;
  if (before.sound && !after.sound) return ["size.spoilt", {}];
  if (before.pieces !== after.pieces && before.pieces) return ["size.pieces", { before: before.pieces, after: after.pieces }];
  if (after.drawn && after.pieces > 1) return ["size.drawn", {}];
  return cuts ? ["size.carried", {}] : null;
}
