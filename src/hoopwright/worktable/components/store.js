// One project in this window: how it stands, what is being changed, and what could not be saved yet.
//
// Every change goes through `edit`: it is sent at once, and kept in this browser until the server has it. While a hand drags,
// `attempt` asks for the plan that would come of it: one question is on its way at a time, and only the newest waits.
// Every LOOK_MS the window asks whether another window, or a text editor, changed the project.
import { reactive } from "vue";
import { ask, of, Trouble } from "/parts/ask.js";
import { cleared, kept, keepAll, openQueue, panelChanges, patched, queued, rebased, toCarry, toResize } from "/parts/waiting.js";

const LOOK_MS = 1500;

export function openProject(name) {
  const store = reactive({
    name,
    version: -1,
    project: null,
    view: null,
    finished: [], // sizes of the finished work, mm
    tried: null,
    problems: [],
    readable: true,
    whole: true, // the project file is a text at all
    sound: null, // the newest version that can be read, when the project file cannot
    undo: null,
    redo: null,
    online: true,
    saving: 0,
    waiting: 0, // changes that only this browser has
    trouble: null,
    gone: null, // said when the project is no longer there
    elsewhere: false, // what is shown was changed in another window
    chosen: null, // the finding that was pressed
    forms: null, // which settings may be set
    pending: null, // settled when all that came to rest under a hand was given to be saved
    sheet: null, // the place at which the sheet of machine and habits is open
    async load() {
      turn += 1;
      await heard(store, () => ask(of(name)));
    },
    edit: (what, changes, carry = false) => queueEdit(store, what, changes, carry),
    attempt: (changes) => queueTry(store, changes),
    settle() {
      settled(store);
    },
    undoOne: () => step(store, "undo"),
    redoOne: () => step(store, "redo"),
    goTo: (number) => step(store, `versions/${number}`),
    versions: () => ask(`${of(name)}/versions`),
    nameVersion: (number, word) => ask(`${of(name)}/versions/${number}/name`, { name: word }),
    rename: (what, title) => queueEdit(store, what, [{ path: "title", value: title }]),
    set: (what, path, value) => queueEdit(store, what, [{ path, value }]),
    look: () => look(store),
    saved: () => saved(store),
    close: () => stop(store),
  });
  store.ready = openQueue(name).then((queue) => {
    store.queue = queue;
    store.waiting = kept(queue).length;
    return store.waiting ? inTurn(() => store.load().then(() => flush(store))) : undefined;
  });
  watch(store);
  return store;
}

function take(store, page) {
  ahead = false;
  store.version = page.version;
  store.undo = page.undo;
  store.redo = page.redo;
  store.problems = page.problems;
  store.sound = page.sound ?? null;
  store.readable = page.project !== null;
  store.whole = page.whole;
  if (page.project !== null) store.project = page.project;
  store.finished = page.finished ?? [];
  store.view = page.view ?? (page.project === null ? store.view : null);
  settled(store);
  store.gone = null;
}

/** Do work after all that was asked before; work that goes wrong does not hold up what comes after it. @template T @param {() => Promise<T>} work @returns {Promise<T>} */
function inTurn(work) {
  const done = chain.then(work);
  chain = done.catch(() => {});
  return done;
}

async function heard(store, work) {
  try {
    take(store, await work());
    store.online = true;
    store.trouble = null;
    return true;
  } catch (error) {
    tell(store, error);
    return false;
  }
}

function tell(store, error) {
  if (!(error instanceof Trouble)) throw error;
  if (error.status === 0) store.online = false;
  else if (error.status === 404) store.gone = error;
  else store.trouble = error;
}

let chain = Promise.resolve();
let turn = 0; // how often this window asked for another state: what it heard before that says nothing about other windows

/** Send a change after all earlier ones; one that cannot reach the server waits in this browser. With `carry` pieces and seams are to keep what they have; "resize" carries the cuts along with a size or an outline. */
function queueEdit(store, what, changes, carry = false) {
  store.saving += 1;
  turn += 1;
  store.elsewhere = false;
  return store.ready
    .then(() =>
      inTurn(() => {
        keepAll(store.queue, queued(kept(store.queue), { what, changes, base: store.version, ...(carry ? { carry } : {}) }));
        return flush(store);
      }),
    )
    .finally(() => (store.saving -= 1));
}

/** Whether a refused change may be sent again later: no answer, no room on the disk, the project's folder away. */
const later = (error) => error instanceof Trouble && [0, 404, 507].includes(error.status);

/** Let the pieces and seams of a change that waits keep what they have; it is kept so, and sent the same however often. */
async function whole(store, row) {
  if (toResize(row)) return resized(store, row);
  const patchwork = toCarry(row);
  if (patchwork === null) return row;
  const { what, base } = row;
  let { changes } = row;
  try {
    changes = panelChanges(await ask(`${of(store.name)}/draw/carry`, { patchwork }), store.project?.panel ?? {});
  } catch (error) {
    if (later(error)) throw error;
  }
  const done = { what, changes, base };
  keepAll(store.queue, [done, ...kept(store.queue).slice(1)]);
  return done;
}

/** Put to a change of sizes what belongs to it. Raises a Trouble when it cannot be made: it is told, and not sent. */
async function resized(store, row) {
  const { what, changes, base } = row;
  let said = { values: {}, refused: [] };
  try {
    said = await ask(`${of(store.name)}/resize`, { changes });
  } catch (error) {
    if (later(error)) throw error;
  }
  if (said.refused.length) throw new Trouble(said.refused[0].message, said.refused[0].cure, 422);
  const done = { what, changes: [...changes, ...panelChanges(said.values, store.project?.panel ?? {})], base };
  keepAll(store.queue, [done, ...kept(store.queue).slice(1)]);
  return done;
}

async function flush(store) {
  for (let rows = kept(store.queue); rows.length; rows = kept(store.queue)) {
    store.waiting = rows.length;
    let row = rows[0];
    try {
      row = await whole(store, row);
      const page = await ask(`${of(store.name)}/edit`, row);
      keepAll(store.queue, rebased(kept(store.queue).slice(1), row.base, page.version));
      take(store, page);
      store.online = true;
      store.trouble = null;
    } catch (error) {
      tell(store, error);
      if (later(error)) {
        showWaiting(store);
        return;
      }
      keepAll(store.queue, kept(store.queue).slice(1));
      settled(store);
      if (error.status === 409 || ahead) await again(store);
    }
  }
  store.waiting = 0;
  cleared(store.queue);
}

let ahead = false; // this window shows what waits, which the server has not taken yet

/** Show in this window what waits to be saved, as far as that can be seen without the server. */
function showWaiting(store) {
  if (store.project === null) return;
  const changes = kept(store.queue).flatMap((row) => row.changes);
  store.project = patched(store.project, changes);
  ahead = true;
}

/** Show how the project stands now, and keep what was said. */
async function again(store) {
  try {
    take(store, await ask(of(store.name)));
  } catch (error) {
    tell(store, error);
  }
}

/** Wait until all that was changed so far is saved, or waits in this browser. */
async function saved(store) {
  await store.ready;
  if (store.pending) await store.pending;
  await inTurn(async () => {});
}

async function step(store, which) {
  store.saving += 1;
  turn += 1;
  try {
    await store.ready;
    if (store.pending) await store.pending; // no turn is lost to a change that comes after
    return await inTurn(async () => {
      store.elsewhere = false;
      if (store.waiting) await flush(store);
      if (store.waiting) return false; // what waits comes first
      return heard(store, () => ask(`${of(store.name)}/${which}`, {}));
    });
  } finally {
    store.saving -= 1;
  }
}

/** Look from time to time whether the project was changed elsewhere, and send what waits. */
function watch(store) {
  store.timer = setInterval(() => look(store), LOOK_MS);
  store.seen = () => document.visibilityState === "visible" && look(store);
  document.addEventListener("visibilitychange", store.seen);
}

function stop(store) {
  clearInterval(store.timer);
  document.removeEventListener("visibilitychange", store.seen);
}

let looking = false;

async function look(store) {
  if (looking || store.saving || (document.visibilityState !== "visible" && store.online && !store.waiting)) return;
  looking = true;
  try {
    const now = turn;
    const said = await ask(`${of(store.name)}/version`);
    const missed = !store.online || store.gone !== null;
    store.online = true;
    store.gone = null;
    if (store.saving || now !== turn) return; // older than what this window asked for since
    if (store.waiting) await inTurn(() => flush(store));
    else if (missed || said.version !== store.version || said.whole !== store.whole) {
      await inTurn(async () => {
        if (now !== turn) return;
        store.elsewhere = store.version >= 0 && said.version !== store.version;
        await again(store);
      });
    }
  } catch (error) {
    tell(store, error);
  } finally {
    looking = false;
  }
}

let asked = null; // the newest changes that wait for their turn
let busy = false;
let tries = 0; // an answer to a question from before the hand let go is not shown

/** Show the project as it is saved; what is still asked about trial changes comes too late. */
function settled(store) {
  asked = null;
  tries += 1;
  store.tried = null;
}

async function queueTry(store, changes) {
  asked = changes;
  if (busy) return;
  busy = true;
  try {
    while (asked !== null) {
      const [now, try_] = [asked, tries];
      asked = null;
      try {
        const said = await ask(`${of(store.name)}/try`, { changes: now });
        if (try_ === tries) store.tried = said.view;
      } catch (error) {
        if (error instanceof Trouble && error.status === 0) store.online = false;
      }
    }
  } finally {
    busy = false;
  }
}
