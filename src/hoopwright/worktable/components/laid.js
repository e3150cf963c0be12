// What is laid or sewn on a panel: letters, stitch files, accents. What to write into the project file when one is added, moved,
// turned, sized or taken away. Places are [x, y] in mm, y up. Pure, no page.
import { across, distance, inside, toFile } from "/parts/geometry.js";

/** @typedef {import("/parts/geometry.js").Place} Place */
/** @typedef {import("/parts/geometry.js").Frame} Frame */
/** @typedef {{ path: string, value: any }} Change */
/** @typedef {"lettering" | "placed" | "accents"} Kind */
/** @typedef {{ kind: Kind, number: number }} Thing counted from 1 */
/** @typedef {Thing & { at: Place, turn: number, box: [number, number] }} Row as the server draws it: in the hoop */
/** @typedef {{ at?: Place, turn?: number, width?: number, height?: number, size?: number, scale?: number }} Values */

export const KINDS = /** @type {Kind[]} */ (["lettering", "placed", "accents"]);

/** What need not be said in the file. */
const USUAL = {
  lettering: { at: [0, 0], width: 60, height: null, capitals: null, turn: 0, align: "middle", thread: null, font: null },
  placed: { at: [0, 0], turn: 0, mirror: false, scale: 1, threads: [] },
  accents: { size: 40, lobes: null, fullness: 0.5, seed: 0, at: [0, 0], turn: 0, thread: null, base: "film" },
};

/** How far a stitch file may be rescaled: its stitches are only moved. */
export const SCALE = /** @type {[number, number]} */ ([0.9, 1.1]);
export const WIDTH = /** @type {[number, number]} */ ([5, 400]); // mm of a box of letters
const CATCH = 3; // degrees within which a turning thing catches
const EVERY = 15; // multiples of this

const r = (/** @type {number} */ v, places = 2) => Math.round(v * 10 ** places) / 10 ** places + 0;
const same = (/** @type {any} */ a, /** @type {any} */ b) => JSON.stringify(a) === JSON.stringify(b);
const within = (/** @type {number} */ v, /** @type {[number, number]} */ [low, high]) => Math.min(high, Math.max(low, v));

/** @param {Thing | null} one @param {Thing | null} other */
export const isSame = (one, other) => one !== null && other !== null && one.kind === other.kind && one.number === other.number;

/** All that lies on a panel, in the order of the project file. @param {any} panel of the project @returns {(Thing & { model: any })[]} */
export const things = (panel) => KINDS.flatMap((kind) => panel[kind].map((/** @type {any} */ _, /** @type {number} */ i) => ({ kind, number: i + 1, model: modelOf(panel, { kind, number: i + 1 }) })));

/** What the project file says of a thing, with what it need not say; null when it is not there. @param {any} panel @param {Thing | null} thing */
export function modelOf(panel, thing) {
  const model = thing === null ? undefined : panel[thing.kind][thing.number - 1];
  return model && thing ? { ...USUAL[thing.kind], ...model } : null;
}

/** The thing that a place of the project file speaks of: "panel.lettering[1].at". @param {string | null | undefined} path @returns {Thing | null} */
export function thingAt(path) {
  const found = /^panel\.(lettering|placed|accents)(?:\[(\d+)\])?(?!\w)/.exec(path ?? "");
  return found ? { kind: /** @type {Kind} */ (found[1]), number: Number(found[2] ?? 1) } : null;
}

/** @param {any} panel @param {Kind} kind @param {Record<string, any>} entry @returns {Change[]} */
export function addChanges(panel, kind, entry) {
  const usual = /** @type {Record<string, any>} */ (USUAL[kind]);
  const value = Object.fromEntries(Object.entries(entry).filter(([k, v]) => v !== null && !same(v, usual[k])));
  const count = panel[kind].length;
  return [count ? { path: `panel.${kind}[${count + 1}]`, value } : { path: `panel.${kind}`, value: [value] }];
}

/** @param {any} panel @param {Thing} thing @returns {Change[]} */
export const removeChanges = (panel, { kind, number }) => [{ path: panel[kind].length === 1 ? `panel.${kind}` : `panel.${kind}[${number}]`, value: null }];

/** New values of a thing; what is as usual is taken out of the file. @param {Thing} thing @param {Record<string, any>} values @returns {Change[]} */
export const putChanges = ({ kind, number }, values) =>
  Object.entries(values).map(([key, value]) => ({ path: `panel.${kind}[${number}].${key}`, value: same(value, /** @type {Record<string, any>} */ (USUAL[kind])[key]) ? null : value }));

/** The middle of the panel in the numbers of the file. @param {Frame} frame @returns {Place} */
export const middleOf = (frame) => toFile(frame, [0, 0]);

/** A place in the hoop as it is written: to a tenth of a mm. @param {Frame} frame @param {Place} place @returns {Place} */
export function writtenAt(frame, place) {
  const [x, y] = toFile(frame, place);
  return [r(x, 1), r(y, 1)];
}

/** The nearest place at which the middle of a thing still lies on the board: within the bounds of an outline. @param {Place[]} ring @param {Place} place @returns {Place} */
export function onBoard(ring, [x, y]) {
  const [xs, ys] = [ring.map((p) => p[0]), ring.map((p) => p[1])];
  return [within(x, [Math.min(...xs), Math.max(...xs)]), within(y, [Math.min(...ys), Math.max(...ys)])];
}

/** An angle between -180 and 180 degrees, 180 itself counted as such. @param {number} degrees */
export function level(degrees) {
  const turn = ((degrees % 360) + 360) % 360;
  return r(turn > 180 ? turn - 360 : turn, 1);
}

/** A place in the hoop seen from a thing: its middle the origin, upright. @param {Row} row @param {Place} place @returns {Place} */
export function seenFrom(row, [x, y]) {
  const a = (row.turn * Math.PI) / 180;
  const [u, v] = [x - row.at[0], y - row.at[1]];
  return [Math.cos(a) * u + Math.sin(a) * v, -Math.sin(a) * u + Math.cos(a) * v];
}

/** How far a thing is turned when its upper handle, or its lower one, is drawn to a place; it catches at every 15 degrees unless `free`. @param {Row} row @param {Frame} frame @param {Place} place @param {boolean} free @param {boolean} lower @returns {Values} */
export function turnedTo(row, frame, [x, y], free, lower = false) {
  const whole = (Math.atan2(y - row.at[1], x - row.at[0]) * 180) / Math.PI + (lower ? 90 : -90) - frame.turn;
  const near = Math.round(whole / EVERY) * EVERY;
  return { turn: level(!free && Math.abs(whole - near) <= CATCH ? near : Math.round(whole)) };
}

/** What the drawing of a thing is multiplied by when it has new values. @param {Row} row as drawn @param {any} model as drawn @param {Values} values */
export function grown(row, model, values) {
  if (row.kind === "accents") return (values.size ?? model.size) / model.size;
  if (row.kind === "placed") return (values.scale ?? model.scale) / model.scale;
  return model.capitals === null && model.height === null ? (values.width ?? model.width) / model.width : 1;
}

/** The values of a thing whose lower right corner is drawn to a place. @param {Row} row @param {any} model @param {Place} place @param {[number, number]} bounds of an accent's size @returns {Values} */
export function sizedTo(row, model, place, bounds) {
  const [x, y] = seenFrom(row, place).map(Math.abs);
  const part = Math.max(x / (row.box[0] / 2), y / (row.box[1] / 2));
  if (row.kind === "accents") return { size: r(within(model.size * part, bounds), 0) };
  if (row.kind === "placed") return { scale: r(within(model.scale * part, SCALE)) };
  const width = r(within(2 * x, WIDTH), 0);
  return model.height === null ? { width } : { width, height: r(within(2 * y, WIDTH), 0) };
}

/** The values of a thing made larger or smaller by steps with keys. @param {Row} row @param {any} model @param {number} steps @param {[number, number]} bounds of an accent's size @returns {Values} */
export function sizedBy(row, model, steps, bounds) {
  if (row.kind === "accents") return { size: r(within(model.size + steps, bounds), 1) };
  if (row.kind === "placed") return { scale: r(within(model.scale + steps / 100, SCALE)) };
  return { width: r(within(model.width + steps, WIDTH), 1) };
}

/** The threads of a stitch file's blocks when block `k` (from 0) gets one; null lets it take the one nearest to its colour. @param {{ thread: string }[]} blocks as they are sewn @param {string[]} named @param {number} k @param {string} thread */
export const threadsWith = (blocks, named, k, thread) => blocks.slice(0, Math.max(k + 1, named.length)).map((block, i) => (i === k ? thread : block.thread));

/** The lines that are written in a field: no empty ones, at most four, of at most sixty signs. @param {string} text */
export const linesOf = (text) => text.split("\n").map((line) => line.replace(/\s+/g, " ").trim().slice(0, 60).trim()).filter(Boolean).slice(0, 4);

/** The first words of a text that have at most so many signs; of a longer first word its beginning. @param {string} text @param {number} most */
export function firstWords(text, most) {
  const words = text.trim().split(/\s+/);
  let found = words[0].slice(0, most);
  for (const word of words.slice(1)) {
    if (found.length + 1 + word.length > most) break;
    found += ` ${word}`;
  }
  return found;
}

const APART = 12; // mm between the middles of two things that do not lie on each other

/** Where something new is laid, in the hoop, and how much room is there: on the chosen piece, else where there is most and nothing lies
 * yet; in the middle of the panel when no piece has so much as `least`. `flat` is how much wider than high it is.
 * @param {{ outline: Place[], patches: { letter: string, at: Place, area: Place[] }[], laid?: Row[] }} panel @param {string | null} letter @param {number} flat @param {number} least mm
 * @returns {{ at: Place, wide: number, high: number, letter?: string }} */
export function roomFor({ outline, patches, laid = [] }, letter, flat, least) {
  const rooms = patches.map((p) => ({ letter: p.letter, ...roomAt(p.area, p.at) }));
  const chosen = rooms.find((room) => room.letter === letter);
  if (chosen) return chosen;
  const much = (/** @type {{ wide: number, high: number }} */ room) => Math.min(room.wide, flat * room.high);
  const free = rooms.filter((room) => much(room) >= least && laid.every((row) => Math.hypot(row.at[0] - room.at[0], row.at[1] - room.at[1]) > APART));
  return free.sort((a, b) => much(b) - much(a))[0] ?? roomAt(outline, [0, 0]);
}

/** How wide something may be, at most `wide`, `flat` times as wide as it is high, to stand off the edges of a ring: seam stitches lie there.
 * @param {Place[]} ring @param {Place} at @param {number} wide @param {number} flat @param {number} off mm */
export function fitting(ring, at, wide, flat, off) {
  const stands = (/** @type {number} */ w) => {
    const [x, y] = [w / 2 + off, w / flat / 2 + off];
    return [[-x, -y], [x, -y], [x, y], [-x, y], [0, y], [0, -y]].every(([dx, dy]) => inside(ring, [at[0] + dx, at[1] + dy]));
  };
  let least = Math.floor(wide);
  while (least > 0 && !stands(least)) least -= 1;
  return least;
}

/** How wide and how high something may be whose middle lies at a place within a ring. @param {Place[]} ring @param {Place} at */
function roomAt(ring, at) {
  const free = (/** @type {Place} */ way) => {
    const chord = across(ring, [at, [at[0] + way[0], at[1] + way[1]]], at);
    return chord ? 2 * Math.min(...chord.map((end) => distance(end, at))) : 0;
  };
  return { at, wide: free([1, 0]), high: free([0, 1]) };
}
