// One project in this window: how it stands, what is being changed, and what could not be saved yet.
//
// Every change goes through `edit`: it is sent at once, and kept in this browser until the server has it. While a hand drags,
// `attempt` asks for the plan that would come of it: one question is on its way at a time, and only the newest waits.
import { reactive } from "vue";
import { ask, of, Trouble } from "/parts/ask.js";

const AGAIN_MS = 2000;

export function openProject(name) {
  const store = reactive({
    name,
    version: -1,
    project: null,
    view: null,
    tried: null,
    problems: [],
    undo: null,
    redo: null,
    online: true,
    saving: 0,
    trouble: null,
    chosen: null, // the finding that was pressed
    async load() {
      await heard(store, () => ask(of(name)));
    },
    edit: (what, changes) => queueEdit(store, what, changes),
    attempt: (changes) => queueTry(store, changes),
    settle() {
      forget();
      store.tried = null;
    },
    undoOne: () => step(store, "undo"),
    redoOne: () => step(store, "redo"),
    set: (what, path, value) => queueEdit(store, what, [{ path, value }]),
  });
  resume(store);
  return store;
}

function take(store, page) {
  store.version = page.version;
  store.undo = page.undo;
  store.redo = page.redo;
  store.problems = page.problems;
  if (page.project !== null) store.project = page.project;
  if (page.view !== null) store.view = page.view;
  forget();
  store.tried = null;
}

async function heard(store, work) {
  try {
    take(store, await work());
    store.online = true;
    store.trouble = null;
    return true;
  } catch (error) {
    if (error instanceof Trouble && error.status === 0) store.online = false;
    else store.trouble = error;
    return false;
  }
}

const keptAt = (store) => `hoopwright.waiting.${store.name}`;

function waiting(store) {
  try {
    return JSON.parse(localStorage.getItem(keptAt(store)) ?? "[]");
  } catch {
    return [];
  }
}

function keep(store, rows) {
  if (rows.length) localStorage.setItem(keptAt(store), JSON.stringify(rows));
  else localStorage.removeItem(keptAt(store));
}

let chain = Promise.resolve();

/** Send a change after all earlier ones; one that cannot reach the server waits in this browser. */
function queueEdit(store, what, changes) {
  keep(store, [...waiting(store), { what, changes }]);
  store.saving += 1;
  chain = chain.then(() => flush(store)).finally(() => (store.saving -= 1));
  return chain;
}

async function flush(store) {
  for (let rows = waiting(store); rows.length; rows = waiting(store)) {
    const row = rows[0];
    try {
      take(store, await ask(`${of(store.name)}/edit`, { base: store.version, ...row }));
      store.online = true;
      store.trouble = null;
    } catch (error) {
      if (error instanceof Trouble && (error.status === 0 || error.status === 507)) {
        store.online = error.status !== 0;
        store.trouble = error.status === 507 ? error : store.trouble;
        setTimeout(() => (chain = chain.then(() => flush(store))), AGAIN_MS);
        return;
      }
      store.trouble = error;
      store.tried = null;
      keep(store, waiting(store).slice(1));
      if (error.status === 409) take(store, await ask(of(store.name)));
      continue;
    }
    keep(store, waiting(store).slice(1));
  }
}

function resume(store) {
  if (waiting(store).length) chain = chain.then(() => store.load()).then(() => flush(store));
}

async function step(store, which) {
  await chain;
  return heard(store, () => ask(`${of(store.name)}/${which}`, {}));
}

let asked = null; // the newest changes that wait for their turn
let busy = false;
let left = 0; // how often trials were left; the answer to one that was left is not shown

function forget() {
  asked = null;
  left += 1;
}

async function queueTry(store, changes) {
  asked = changes;
  if (busy) return;
  busy = true;
  try {
    while (asked !== null) {
      const now = asked;
      const before = left;
      asked = null;
      try {
        const said = await ask(`${of(store.name)}/try`, { changes: now });
        if (left === before) store.tried = said.view;
      } catch (error) {
        if (error instanceof Trouble && error.status === 0) store.online = false;
      }
    }
  } finally {
    busy = false;
  }
}
