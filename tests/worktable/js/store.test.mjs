import assert from "node:assert/strict";
import test from "node:test";

// A browser as small as the store needs it, and a server that numbers its versions and refuses a change made on an older one.
const storage = new Map();
const noted = [];
const server = { version: 1, breaks: 0, hold: null };
const page = () => ({ version: server.version, undo: "x", redo: null, problems: [], project: { title: "t", panel: {} }, whole: true, view: { n: server.version } });
const answered = (data, status = 200) => ({ ok: status === 200, status, statusText: "", text: async () => JSON.stringify(data) });

Object.defineProperty(globalThis, "navigator", { value: {}, configurable: true });
globalThis.document = { visibilityState: "visible", addEventListener() {}, removeEventListener() {}, documentElement: { lang: "en" } };
globalThis.localStorage = { getItem: (k) => storage.get(k) ?? null, setItem: (k, v) => storage.set(k, v), removeItem: (k) => storage.delete(k) };
globalThis.fetch = async (path, { body }) => {
  const said = body === undefined ? null : JSON.parse(body);
  noted.push([path.split("/").pop(), said]);
  await new Promise((done) => setTimeout(done, 5));
  if (path.endsWith("/try")) {
    await server.hold;
    return answered({ view: { n: "tried" } });
  }
  if (path.endsWith("/version")) {
    const version = server.version;
    await server.hold;
    return answered({ version, whole: true });
  }
  if (path.endsWith("/carry")) return answered({ patchwork: said.patchwork, cloths: { B: "linen" }, grounds: {} });
  if (path.endsWith("/resize")) {
    if (server.away) throw new TypeError("away");
    if (said.changes[0].value > 400) return answered({ values: {}, refused: [{ message: "too large", cure: "smaller" }], field: null });
    return answered({ values: { patchwork: { way: "cuts", cuts: [["carried", said.changes[0].value]] } }, refused: [], field: null });
  }
  if (path.endsWith("/edit") && server.away) throw new TypeError("away");
  if (path.endsWith("/edit") && server.breaks) {
    server.breaks -= 1;
    return { ok: true, status: 200, text: async () => Promise.reject(new TypeError("broken off")) };
  }
  if (path.endsWith("/edit") && said.base !== server.version) return answered({ message: "changed elsewhere" }, 409);
  if (said !== null) server.version += 1;
  return answered(page());
};

const { openProject } = await import("/parts/store.js");
const { resize } = await import("/parts/resizing.js");

async function opened() {
  storage.clear();
  noted.length = 0;
  const store = openProject("mat");
  clearInterval(store.timer);
  await store.load();
  return store;
}

test("a change made before the answer to an undo stands on what the undo gives", async () => {
  const store = await opened();
  await Promise.all([store.undoOne(), store.set("a", "title", "b")]);
  const edits = noted.filter(([what]) => what === "edit");
  assert.equal(edits.length, 1);
  assert.equal(edits[0][1].base, server.version - 1);
  assert.equal(store.trouble, null);
  assert.equal(store.version, server.version);
});

test("a change whose answer breaks off waits, and those after it are sent with it", async () => {
  const store = await opened();
  server.breaks = 1;
  await store.set("a", "title", "b");
  assert.equal(store.waiting, 1);
  assert.equal(store.online, false);
  await store.set("c", "title", "d");
  assert.equal(store.waiting, 0);
  assert.deepEqual(noted.filter(([what]) => what === "edit").map(([, said]) => said.what), ["a", "a", "c"]);
});

test("nothing is undone past a change that still waits", async () => {
  const store = await opened();
  server.breaks = 2;
  await store.set("a", "title", "b");
  assert.equal(await store.undoOne(), false);
  assert.ok(!noted.some(([what]) => what === "undo"));
  assert.equal(store.waiting, 1);
  assert.equal(await store.undoOne(), true);
  assert.deepEqual(noted.slice(-2).map(([what]) => what), ["edit", "undo"]);
});

test("a trial that is answered after the hand let go is not shown", async () => {
  const store = await opened();
  let answer = () => {};
  server.hold = new Promise((done) => (answer = done));
  const trying = store.attempt([{ path: "title", value: "x" }]);
  store.settle();
  answer();
  await trying;
  assert.equal(store.tried, null);
  await store.attempt([{ path: "title", value: "x" }]);
  assert.deepEqual(store.tried, { n: "tried" });
});

test("pieces keep their cloths in a drawing that waited: it is asked once, when it is sent", async () => {
  const store = await opened();
  const patchwork = { way: "lines", lines: [[[0, 0], [1, 0]]] };
  server.breaks = 1;
  await store.edit("moved", [{ path: "panel.patchwork", value: patchwork }], true);
  assert.equal(store.waiting, 1);
  await store.set("c", "title", "d");
  assert.equal(store.waiting, 0);
  assert.deepEqual(noted.map(([what]) => what).slice(-4), ["carry", "edit", "edit", "edit"]);
  const [first, again] = noted.filter(([what]) => what === "edit").map(([, said]) => said);
  assert.deepEqual(first.changes, [{ path: "panel.patchwork", value: patchwork }, { path: "panel.cloths", value: { B: "linen" } }]);
  assert.deepEqual(again, first);
  assert.deepEqual(Object.keys(first).sort(), ["base", "changes", "what"]);
});

test("what this window undid is no change of another window, however the answers cross", async () => {
  const store = await opened();
  let answer = () => {};
  server.hold = new Promise((done) => (answer = done));
  const looking = store.look();
  const undone = [1, 2, 3, 4].map(() => store.undoOne());
  await undone[0];
  answer();
  await Promise.all([looking, ...undone]);
  assert.equal(store.elsewhere, false);
  assert.equal(noted.filter(([what]) => what === "mat").length, 1);
  await store.look();
  assert.equal(store.elsewhere, false);
  assert.equal(store.version, server.version);
  server.version += 1;
  await store.look();
  assert.equal(store.elsewhere, true);
  assert.equal(store.version, server.version);
});

test("sizes changed while the server is away carry their cuts when they are sent, each from the one before", async () => {
  const store = await opened();
  server.away = true;
  await store.edit("width", [{ path: "make.width", value: 120 }], "resize");
  await store.edit("width", [{ path: "make.width", value: 130 }], "resize");
  assert.equal(store.waiting, 2);
  assert.equal(store.project.make.width, 130);
  server.away = false;
  noted.length = 0;
  await store.look();
  const edits = noted.filter(([what]) => what === "edit").map(([, said]) => said.changes);
  assert.deepEqual(edits.map(([size, cuts]) => [size.value, cuts.path, cuts.value.cuts[0][1]]), [[120, "panel.patchwork", 120], [130, "panel.patchwork", 130]]);
  assert.equal(store.waiting, 0);
});

test("a size that waited and cannot be made is told, not sent, and no longer shown", async () => {
  const store = await opened();
  server.away = true;
  await store.edit("width", [{ path: "make.width", value: 500 }], "resize");
  server.away = false;
  noted.length = 0;
  await store.look();
  assert.ok(!noted.some(([what]) => what === "edit"));
  assert.equal(store.waiting, 0);
  assert.equal(store.project.make, undefined);
  assert.equal(store.trouble.message, "too large");
});

test("a size is asked about after the drawing that is on its way, or waits", async () => {
  const store = await opened();
  const drawn = (at) => [{ path: "panel.patchwork", value: { way: "cuts", cuts: [[[0, 0], [0, at]]] } }];
  const size = (value) => [{ path: "make.width", value }];
  await Promise.all([store.edit("cut", drawn(1)), resize(store, "width", size(120))]);
  const asked = () => noted.map(([what]) => what).filter((what) => what === "edit" || what === "resize");
  assert.deepEqual(asked(), ["edit", "resize", "edit"]);
  server.away = true;
  await store.edit("cut", drawn(2));
  server.away = false;
  noted.length = 0;
  await resize(store, "width", size(130));
  assert.deepEqual(asked(), ["edit", "resize", "edit"]);
  assert.deepEqual(noted.filter(([what]) => what === "edit").map(([, said]) => said.what), ["cut", "width"]);
});
