// The player: the run sheets of all hoopings of a project, a place on them, and the clock that moves it on.
// Nothing here is watched by the page; the page is told by `tell` what it has to show.

import { ask, of, Trouble } from "/parts/ask.js";
import { familiesOf } from "/parts/player_canvas.js";
import { decode, stretches, UNIT } from "/parts/player_decode.js";
import { again, ahead, clock, sewnAt, sizeOf, slider } from "/parts/player_timing.js";

/** Ask for bytes; the browser may keep them. @param {string} path */
async function bytes(path) {
  let answer;
  try {
    answer = await fetch(path);
  } catch {
    throw new Trouble("offline");
  }
  if (answer.ok) return answer.arrayBuffer();
  const said = await answer.json().catch(() => ({}));
  throw new Trouble(said.message ?? answer.statusText, said.cure ?? "", answer.status);
}

/** One hooping with everything that drawing it needs. @param {object} row @param {ArrayBuffer} bulk */
export function madeReady(row, bulk) {
  const needles = decode(bulk);
  const blocks = row.moments.filter((m) => m.kind === "sew");
  const ends = Uint32Array.from(blocks.map((b) => b.first + b.count));
  const begins = new Map();
  let sewn = 0;
  const hooped = new Set();
  const since = new Map(); // the moment from which each view is seen
  const born = []; // how much was sewn when each surface came to be seen
  row.moments.forEach((m, at) => {
    for (const seen of m.fold ? [m.lies, m.fold.rest] : [m.lies]) {
      for (const side of ["top", "under"]) {
        for (const { surface } of row.views[seen][side]) if (surface !== undefined) born[surface] ??= sewn;
      }
      if (m.hooped) hooped.add(seen);
      if (!since.has(seen)) since.set(seen, at);
    }
    if (m.kind === "sew") sewn = m.first;
    if (!begins.has(m.lies)) begins.set(m.lies, sewn);
    if (m.kind === "sew") sewn += m.count;
  });
  return {
    ...row,
    laces: Object.fromEntries(Object.entries(row.laces).map(([piece, flat]) => [piece, lace(flat)])),
    needles,
    ends,
    begins,
    hooped,
    born,
    since,
    colours: blocks.map((b) => b.colour),
    top: stretches(needles, needles.top, ends, row.surfaces.length),
    under: stretches(needles, needles.under, ends, row.surfaces.length),
    families: familiesOf(row.surfaces),
    clock: clock(needles, row.pace),
    finished: finishedTop(row),
    others: new Map(),
  };
}

/** What shows of a hooping from above when all is done: its rows and their surfaces, and the last moment. */
function finishedTop({ moments, views, surfaces }) {
  const open = new Uint8Array(surfaces.length);
  const rows = views[moments.at(-1).lies].top;
  for (const { surface } of rows) if (surface !== undefined) open[surface] = 1;
  return { rows, open, by: moments.length - 1 };
}

/** An accent that is laid, as one run. @param {number[]} flat */
const lace = (flat) => ({ xy: Int16Array.from(flat), opens: Uint8Array.from({ length: flat.length / 2 }, (_, i) => (i ? 0 : 1)) });

/** The moments of all hoopings in one row; handwork knows how much was sewn before it. */
export function inOneRow(sheets) {
  return sheets.flatMap((sheet, hooping) => {
    let first = 0;
    return sheet.moments.map((m) => {
      const row = { ...m, hooping, first };
      if (m.kind === "sew") first = m.first + m.count;
      return row;
    });
  });
}

export class Player {
  /** @param {string} name of the project @param {(what: "moment" | "state") => void} tell */
  constructor(name, tell) {
    this.name = name;
    this.tell = tell;
    this.sheets = [];
    this.moments = [];
    this.place = { at: 0, part: 0 };
    this.playing = false;
    this.gliding = false; // only the present handwork is shown, then it rests
    this.tempo = null;
    this.waits = false;
    this.still = false; // no moving pictures
    this.version = -1;
  }

  /** Fetch the run sheets as they are now; the place is kept as well as it can be. */
  async load() {
    const said = await ask(`${of(this.name)}/run`);
    const path = (k) => `${of(this.name)}/run/${encodeURIComponent(said.hoopings[k].key)}/${said.prints[k]}`;
    const bulk = await Promise.all(said.hoopings.map((_, k) => bytes(`${path(k)}/needles.bin`)));
    this.take(said.hoopings.map((row, k) => ({ ...madeReady(row, bulk[k]), path: path(k) })));
    this.version = said.version;
  }

  take(sheets) {
    const old = this.moments;
    this.sheets = sheets;
    for (const sheet of sheets) for (const other of sheets) sheet.others.set(other.key, other);
    this.moments = inOneRow(sheets);
    this.bar = slider(this.moments);
    this.clocks = sheets.map((s) => s.clock);
    this.place = again(old, this.moments, this.place);
    this.playing = false;
    this.gliding = false;
  }

  get moment() {
    return this.moments[this.place.at];
  }

  get sheet() {
    return this.sheets[this.moment.hooping];
  }

  /** Needle positions sewn so far in this hooping. */
  get sewn() {
    return sewnAt(this.moments, this.place);
  }

  /** The view of the cloth before the present moment, -1 for none. */
  get before() {
    const before = this.moments[this.place.at - 1];
    return before && before.hooping === this.moment.hooping ? before.lies : -1;
  }

  get atEnd() {
    return this.place.at === this.moments.length - 1 && this.place.part >= sizeOf(this.moment);
  }

  go(place) {
    const other = place.at !== this.place.at;
    this.place = place;
    if (other) this.tell("moment");
  }

  /** Go to a moment; handwork is then shown being done. */
  jump(at) {
    this.playing = false;
    this.gliding = this.moments[at].kind === "hand" && !this.still;
    this.go({ at, part: this.moments[at].kind === "hand" && this.still ? 1 : 0 });
    this.tell("state");
  }

  play(on) {
    if (on && this.atEnd) this.go({ at: 0, part: 0 });
    this.playing = on;
    this.gliding = false;
    this.tell("state");
  }

  /** Move on by so many seconds. Returns whether anything moved. */
  tick(seconds) {
    if (this.gliding) {
      const part = Math.min(1, this.place.part + seconds / 0.9);
      this.go({ at: this.place.at, part });
      if (part >= 1) this.gliding = false;
      return true;
    }
    if (!this.playing) return false;
    const { place, halted, ended } = ahead(this.moments, this.clocks, this.place, seconds, this.tempo, this.waits);
    this.go(place);
    if (halted || ended) this.play(false);
    return true;
  }

  /** Where the needle is, in mm, and where its thread comes from; null while hands work, and when a block is done. */
  needle() {
    const m = this.moment;
    if (m.kind !== "sew" || (this.place.part >= m.count && !this.playing)) return null;
    const { needles } = this.sheet;
    const done = m.first + Math.min(m.count, Math.floor(this.place.part));
    const share = this.place.part - Math.floor(this.place.part);
    const spot = (i) => [needles.xy[2 * i] / UNIT, needles.xy[2 * i + 1] / UNIT];
    const next = spot(Math.min(done, m.first + m.count - 1));
    const last = done > m.first ? spot(done - 1) : next;
    const at = [last[0] + (next[0] - last[0]) * share, last[1] + (next[1] - last[1]) * share];
    const joined = done > m.first && done < m.first + m.count && !needles.opens[done];
    return { at, from: joined ? last : null, colour: m.colour, lift: this.playing ? Math.sin(share * Math.PI) : 0 };
  }
}
