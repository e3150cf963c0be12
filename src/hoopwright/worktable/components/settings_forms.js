// Which settings a project has: asked once, and anew when it becomes another item.
import { ask, of, Trouble } from "/parts/ask.js";

let asking = false;

/** Let the store know which settings may be set; without an answer it stays as it is. @param {any} store */
export async function learn(store) {
  const item = store.project?.item;
  if (asking || !item || store.forms?.item === item) return;
  asking = true;
  try {
    store.forms = await ask(`${of(store.name)}/settings`);
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
  } finally {
    asking = false;
  }
}
