// Changes that the server does not have yet, kept in this browser: a window has a queue of its own, so that two windows on
// one project do not send each other's changes twice. The queue of a window that was closed is taken over by the next one.

const HEAD = "hoopwright.waiting.";
const MARK = "hoopwright.window.";

/** Open the queue of this window for a project. @param {string} name @returns {Promise<{ key: string }>} */
export async function openQueue(name) {
  const window_ = crypto.randomUUID();
  const queue = { key: `${HEAD}${name}/${window_}` };
  const alive = await claim(window_);
  const left = Object.keys(localStorage).filter((k) => abandoned(k, name, alive));
  const rows = left.flatMap((key) => rowsAt(key));
  if (rows.length) keepAll(queue, rows);
  for (const key of left) localStorage.removeItem(key);
  return queue;
}

/** Whether a key of the browser's storage is the queue of this project in a window that is no longer open. @param {string} key @param {string} name @param {Set<string>} alive */
export function abandoned(key, name, alive) {
  if (!key.startsWith(`${HEAD}${name}/`)) return false;
  return !alive.has(key.slice(HEAD.length + name.length + 1));
}

/** Hold a lock as long as this window is open; return the windows that hold one. @param {string} window_ */
async function claim(window_) {
  if (!navigator.locks) return new Set();
  await new Promise((held) => navigator.locks.request(MARK + window_, () => (held(null), new Promise(() => {}))));
  const all = await navigator.locks.query();
  return new Set((all.held ?? []).map((lock) => (lock.name ?? "").slice(MARK.length)));
}

function rowsAt(key) {
  try {
    const rows = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(rows) ? rows.filter((r) => r && Array.isArray(r.changes)) : [];
  } catch {
    return [];
  }
}

/** The changes that wait, the oldest first. @param {{ key: string, held?: object[] }} queue */
export const kept = (queue) => queue.held ?? rowsAt(queue.key);

/** Keep changes; where the browser has no room they are kept in this window alone. @param {{ key: string, held?: object[] }} queue @param {object[]} rows */
export function keepAll(queue, rows) {
  queue.held = rows;
  try {
    if (rows.length) localStorage.setItem(queue.key, JSON.stringify(rows));
    else localStorage.removeItem(queue.key);
  } catch {
    localStorage.removeItem(queue.key);
  }
}

export const cleared = (queue) => keepAll(queue, []);

/** Let changes that were made on one version stand on the one that came of it. @param {{ base: number }[]} rows @param {number} from @param {number} to */
export const rebased = (rows, from, to) => rows.map((row) => (row.base === from ? { ...row, base: to } : row));

/** Whether a value says nothing. @param {any} v */
const empty = (v) => v === null || v === undefined || (typeof v === "object" && Object.keys(v).length === 0);

/** Values of the panel as changes of the project; what says nothing and is not there is left out. @param {Record<string, any>} values @param {Record<string, any>} panel as it is saved @returns {{ path: string, value: any }[]} */
export const panelChanges = (values, panel) =>
  Object.entries(values)
    .filter(([key, value]) => !(empty(value) && empty(panel[key])))
    .map(([key, value]) => ({ path: `panel.${key}`, value }));

/** The patchwork for which pieces and seams are still to keep what they have; null when a change needs nothing more. @param {{ carry?: any, changes: { path: string, value: any }[] }} row */
export const toCarry = (row) => (row.carry === true ? (row.changes.find((c) => c.path === "panel.patchwork")?.value ?? null) : null);

/** Whether a change of sizes still needs what belongs to it: the cuts, carried along. @param {{ carry?: any }} row */
export const toResize = (row) => row.carry === "resize";

/**
 * Rows that wait, with one more. A drawing that was changed while a size waits was made on the outline that is still shown: it
 * goes before that size, which then carries it.
 * @template {{ carry?: any, changes: { path: string }[] }} R @param {R[]} rows @param {R} row @returns {R[]}
 */
export function queued(rows, row) {
  const size = rows.findIndex((other) => toResize(other));
  const drawn = row.changes.some((change) => change.path === "panel.patchwork") && !toResize(row);
  return size < 0 || !drawn ? [...rows, row] : [...rows.slice(0, size), row, ...rows.slice(size)];
}

/** Keys and list positions (from 0) of a place as findings write it: "panel.patchwork.cuts[2]". @param {string} path */
export const keysOf = (path) =>
  [...path.matchAll(/"([^"]*)"|([A-Za-z0-9_-]+)(?!\])|\[(\d+)\]/g)].map((m) => (m[3] === undefined ? (m[1] ?? m[2]) : Number(m[3]) - 1));

/** Plain data with changes made, as the server will make them; places that are not there are made. @param {any} data @param {{ path: string, value: any }[]} changes */
export function patched(data, changes) {
  const copy = JSON.parse(JSON.stringify(data));
  for (const { path, value } of changes) {
    const keys = keysOf(path);
    const last = keys.pop();
    if (last === undefined) continue;
    let node = copy;
    for (const key of keys) {
      if (node[key] === null || typeof node[key] !== "object") node[key] = {};
      node = node[key];
    }
    if (value !== null) node[last] = value;
    else if (Array.isArray(node)) node.splice(Number(last), 1);
    else delete node[last];
  }
  return copy;
}
