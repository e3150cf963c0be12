// The course of a run sheet in time: places on it, the slider, halts, and how far the needle comes in a moment.
// Pure functions, no page. A place is { at, part }: the moment from 0, and how much of it is done, up to its size: stitches of a
// block (with a fraction under way), or 1 for handwork.

import { UNIT } from "/parts/player_decode.js";

/** @typedef {{ at: number, part: number }} Place */
/** @typedef {{ kind: "hand" | "sew", count?: number, halt?: boolean, hooping: number, first: number, number: number, work?: string, piece?: string }} Moment */
/** @typedef {{ speed: number, full: number, trim: number }} Pace */
/** @typedef {{ name: string, times: number, hand: number }} Tempo `times` 0: one block a second. `hand`: seconds for each handwork. */

/** @type {Tempo[]} */
export const TEMPOS = [
  { name: "true", times: 1, hand: 3 },
  { name: "ten", times: 10, hand: 1.5 },
  { name: "sixty", times: 60, hand: 0.9 },
  { name: "block", times: 0, hand: 0.7 },
];

/** How much there is to do in a moment. @param {Moment} m */
export const sizeOf = (m) => (m.kind === "sew" ? m.count ?? 0 : 1);

/**
 * Seconds from the beginning of a hooping until each position is sewn, one more than positions; as the estimate reckons: each stitch a
 * turn of the machine, long ones slower, and a cut of the thread after each run.
 * @param {import("/parts/player_decode.js").Needles} needles @param {Pace} pace @returns {Float64Array}
 */
export function clock(needles, pace) {
  const turn = 60 / pace.speed;
  const long = pace.full * UNIT;
  const { xy, opens, count } = needles;
  const at = new Float64Array(count + 1);
  let now = 0;
  for (let i = 0; i < count; i++) {
    now += turn;
    if (!opens[i]) now += Math.max(0, Math.hypot(xy[2 * i] - xy[2 * i - 2], xy[2 * i + 1] - xy[2 * i - 1]) / long - 1) * turn;
    if (i + 1 === count || opens[i + 1]) now += pace.trim * 60;
    at[i + 1] = now;
  }
  return at;
}

/** The largest i with at[i] <= t, from low to high. @param {Float64Array} at @param {number} t @param {number} low @param {number} high */
export function sewnBy(at, t, low, high) {
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (at[middle] <= t) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Seconds on the clock at a place within a block. @param {Float64Array} at @param {number} first @param {number} part */
function clockAt(at, first, part) {
  const whole = Math.floor(part);
  const i = first + whole;
  return i + 1 < at.length ? at[i] + (part - whole) * (at[i + 1] - at[i]) : at[i];
}

/**
 * The place reached from another in so many seconds; `halted` when the machine waits for hands there, `ended` at the end of all.
 * @param {Moment[]} moments @param {Float64Array[]} clocks By hooping. @param {Place} from @param {number} seconds @param {Tempo} tempo
 * @param {boolean} waits Whether to stop where the machine halts. @returns {{ place: Place, halted: boolean, ended: boolean }}
 */
export function ahead(moments, clocks, from, seconds, tempo, waits) {
  let { at, part } = from;
  let left = seconds;
  while (at < moments.length) {
    const m = moments[at];
    const size = sizeOf(m);
    if (part < size) {
      const due = secondsLeft(m, clocks[m.hooping], part, tempo);
      if (left < due) return { place: { at, part: within(m, clocks[m.hooping], part, left, tempo) }, halted: false, ended: false };
      left -= due;
    }
    if (at + 1 === moments.length) return { place: { at, part: size }, halted: false, ended: true };
    at += 1;
    part = 0;
    if (waits && halts(moments, at)) return { place: { at, part: 0 }, halted: true, ended: false };
  }
  return { place: { at: 0, part: 0 }, halted: false, ended: true };
}

/** @param {Moment} m @param {Float64Array} at @param {number} part @param {Tempo} tempo */
function secondsLeft(m, at, part, tempo) {
  const size = sizeOf(m);
  if (m.kind === "hand") return (1 - part) * tempo.hand;
  if (!tempo.times) return (size - part) / size;
  return (at[m.first + size] - clockAt(at, m.first, part)) / tempo.times;
}

/** @param {Moment} m @param {Float64Array} at @param {number} part @param {number} seconds @param {Tempo} tempo */
function within(m, at, part, seconds, tempo) {
  if (m.kind === "hand") return part + seconds / tempo.hand;
  const size = sizeOf(m);
  if (!tempo.times) return Math.min(size, part + seconds * size);
  const t = clockAt(at, m.first, part) + seconds * tempo.times;
  const i = sewnBy(at, t, m.first, m.first + size);
  const step = i < m.first + size ? (t - at[i]) / (at[i + 1] - at[i]) : 0;
  return i - m.first + Math.min(1, Math.max(0, step));
}

/** Whether the machine comes to a halt on reaching a moment: the first handwork after a block, or after the hooping before. @param {Moment[]} moments @param {number} at */
export function halts(moments, at) {
  const m = moments[at];
  if (m.kind !== "hand") return false;
  const before = moments[at - 1];
  return !before || before.kind === "sew" || before.hooping !== m.hooping;
}

/** The moment at which the next halt begins, or the one before (`way` -1); the ends of the sheet when there is none. @param {Moment[]} moments @param {number} at @param {1 | -1} way */
export function otherHalt(moments, at, way) {
  for (let i = at + way; i >= 0 && i < moments.length; i += way) if (halts(moments, i)) return i;
  return way > 0 ? moments.length - 1 : 0;
}

/** One stitch, or one handwork, on or back. @param {Moment[]} moments @param {Place} place @param {number} by @returns {Place} */
export function stepped(moments, { at, part }, by) {
  if (by > 0) {
    const size = sizeOf(moments[at]);
    if (part < size) return { at, part: Math.min(size, Math.floor(part) + by) };
    if (at + 1 === moments.length) return { at, part };
    return { at: at + 1, part: Math.min(sizeOf(moments[at + 1]), by) };
  }
  if (part > 0) return { at, part: Math.max(0, Math.ceil(part) + by) };
  if (at === 0) return { at, part };
  const size = sizeOf(moments[at - 1]);
  return { at: at - 1, part: Math.max(0, size + by) };
}

/**
 * The slider: where each moment begins on it, and its whole length. A stitch is one step; handwork is wide enough to be met.
 * @param {Moment[]} moments @returns {{ starts: number[], widths: number[], total: number }}
 */
export function slider(moments) {
  const stitches = moments.reduce((sum, m) => sum + (m.kind === "sew" ? sizeOf(m) : 0), 0);
  const hand = Math.max(2, Math.round(stitches / 250));
  const starts = [];
  const widths = [];
  let total = 0;
  for (const m of moments) {
    const width = m.kind === "sew" ? sizeOf(m) : hand;
    starts.push(total);
    widths.push(width);
    total += width;
  }
  return { starts, widths, total };
}

/** @param {ReturnType<typeof slider>} bar @param {Moment[]} moments @param {Place} place */
export const valueOf = (bar, moments, { at, part }) => bar.starts[at] + (bar.widths[at] * part) / Math.max(1, sizeOf(moments[at]));

/** @param {ReturnType<typeof slider>} bar @param {Moment[]} moments @param {number} value @returns {Place} */
export function placeOf(bar, moments, value) {
  let low = 0;
  let high = moments.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (bar.starts[middle] < value || middle === 0) low = middle;
    else high = middle - 1;
  }
  const share = bar.widths[low] ? (value - bar.starts[low]) / bar.widths[low] : 1;
  const part = Math.min(1, Math.max(0, share)) * sizeOf(moments[low]);
  return { at: low, part: moments[low].kind === "sew" ? Math.round(part) : part };
}

/** Needle positions of its hooping that are sewn at a place. @param {Moment[]} moments @param {Place} place */
export function sewnAt(moments, { at, part }) {
  const m = moments[at];
  return m.first + (m.kind === "sew" ? Math.floor(part) : 0);
}

/** The same place on a sheet that was made anew: the same block or handwork, or the nearest before. @param {Moment[]} old @param {Moment[]} now @param {Place} place @returns {Place} */
export function again(old, now, { at }) {
  const was = old[at];
  if (!was || !now.length) return { at: 0, part: 0 };
  const same = now.findIndex((m) => ["hooping", "number", "kind", "work", "piece"].every((k) => m[k] === was[k]));
  if (same >= 0) return { at: same, part: 0 };
  let best = 0;
  now.forEach((m, i) => {
    const earlier = m.hooping < was.hooping || (m.hooping === was.hooping && m.number <= was.number);
    if (earlier && (m.kind === was.kind || m.number < was.number || m.hooping < was.hooping)) best = i;
  });
  return { at: best, part: 0 };
}
