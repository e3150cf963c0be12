// Plane geometry of the drafting surface: places are [x, y] in mm, y up. Pure functions, no page.

/** @typedef {[number, number]} Place */
/** @typedef {[Place, Place]} Stroke */
/** @typedef {{ shift: Place, turn: number, back: Place }} Frame */

const NEAR = 1e-9;

/** A place of the project file as it lies in the hoop. @param {Frame} frame @param {Place} p @returns {Place} */
export function toHoop(frame, [x, y]) {
  const a = (frame.turn * Math.PI) / 180;
  const [u, v] = [x + frame.shift[0], y + frame.shift[1]];
  return [Math.cos(a) * u - Math.sin(a) * v + frame.back[0], Math.sin(a) * u + Math.cos(a) * v + frame.back[1]];
}

/** A place in the hoop in the numbers of the project file. @param {Frame} frame @param {Place} p @returns {Place} */
export function toFile(frame, [x, y]) {
  const a = (frame.turn * Math.PI) / 180;
  const [u, v] = [x - frame.back[0], y - frame.back[1]];
  return [Math.cos(a) * u + Math.sin(a) * v - frame.shift[0], -Math.sin(a) * u + Math.cos(a) * v - frame.shift[1]];
}

/** @param {Place} a @param {Place} b */
export const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** @param {Place} a @param {Place} b @param {number} t @returns {Place} */
export const between = (a, b, t) => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];

/** Angle of a stroke in degrees, counter-clockwise from the x axis, from -180 up to 180. @param {Stroke} s */
export const angleOf = ([a, b]) => (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;

/** Whether a place lies inside a ring. @param {Place[]} ring @param {Place} p */
export function inside(ring, [x, y]) {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[j];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
  }
  return odd;
}

/** The nearest place on a stroke, with its part of the way from 0 to 1. @param {Stroke} s @param {Place} p @returns {{ at: Place, t: number, far: number }} */
export function nearestOn([a, b], p) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const long = dx * dx + dy * dy;
  const t = long < NEAR ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long));
  const at = between(a, b, t);
  return { at, t, far: distance(at, p) };
}

/** Where two endless lines meet; null when they are parallel. @param {Stroke} one @param {Stroke} other @returns {Place | null} */
export function meeting([a, b], [c, d]) {
  const [rx, ry] = [b[0] - a[0], b[1] - a[1]];
  const [sx, sy] = [d[0] - c[0], d[1] - c[1]];
  const cross = rx * sy - ry * sx;
  if (Math.abs(cross) < NEAR) return null;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / cross;
  return between(a, b, t);
}

/** The sides of a ring. @param {Place[]} ring @returns {Stroke[]} */
export const sides = (ring) => ring.map((p, i) => [p, ring[(i + 1) % ring.length]]);

/**
 * The stretch of an endless line through a and b that runs across a ring and holds the place `within`; null when there is none.
 * @param {Place[]} ring @param {Stroke} line @param {Place} within @returns {Stroke | null}
 */
export function across(ring, line, within) {
  const [a, b] = line;
  const long = distance(a, b);
  if (long < NEAR) return null;
  const unit = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const along = (p) => (p[0] - a[0]) * unit[0] + (p[1] - a[1]) * unit[1];
  const aside = (p) => (p[0] - a[0]) * -unit[1] + (p[1] - a[1]) * unit[0];
  const met = [];
  for (const [p, q] of sides(ring)) {
    const [u, v] = [aside(p), aside(q)];
    if (u > 0 === v > 0) continue;
    met.push(along(between(p, q, u / (u - v))));
  }
  met.sort((x, y) => x - y);
  const here = along(within);
  for (let i = 0; i + 1 < met.length; i += 2) {
    if (met[i] - NEAR <= here && here <= met[i + 1] + NEAR) {
      const place = (t) => /** @type {Place} */ ([a[0] + unit[0] * t, a[1] + unit[1] * t]);
      return [place(met[i]), place(met[i + 1])];
    }
  }
  return null;
}

/** The nearest place on any of several strokes within `reach`; null when none is so near. @param {Stroke[]} strokes @param {Place} p @param {number} reach @returns {Place | null} */
export function snapTo(strokes, p, reach) {
  let best = null;
  for (const stroke of strokes) {
    const found = nearestOn(stroke, p);
    if (found.far <= reach && (best === null || found.far < best.far)) best = found;
  }
  return best && best.at;
}

/** A place moved so that the stroke from `fixed` has a whole length and an even angle. @param {Place} fixed @param {Place} p @param {number} step mm @param {number} turn degrees @returns {Place} */
export function snapTurn(fixed, p, step, turn) {
  const long = distance(fixed, p);
  const angle = (Math.round(angleOf([fixed, p]) / turn) * turn * Math.PI) / 180;
  const whole = step > 0 ? Math.max(step, Math.round(long / step) * step) : long;
  return [fixed[0] + Math.cos(angle) * whole, fixed[1] + Math.sin(angle) * whole];
}

/**
 * Cuts after the cut `index` was moved to `to`: later cuts that ended on it are drawn out or shortened along their own
 * line, so that they end on it still.
 * @param {Stroke[]} cuts @param {number} index @param {Stroke} to @param {number} reach @returns {Stroke[]}
 */
export function carried(cuts, index, to, reach = 0.3) {
  const old = cuts[index];
  return cuts.map((cut, i) => {
    if (i === index) return to;
    const ends = cut.map((end) => nearestOn(old, end).far <= reach);
    if (i < index || !ends.some(Boolean)) return cut;
    const met = meeting(cut, to);
    if (met === null) return cut;
    const moved = /** @type {Stroke} */ (cut.map((end, k) => (ends[k] ? met : end)));
    return distance(moved[0], moved[1]) < 1 ? cut : moved;
  });
}

/**
 * Lines after the line `index` was moved to `to`: any other line that ended on it is drawn out or shortened along itself, so
 * that it ends on it still; where they no longer meet within the ring, it is drawn on to the next line or the rim. Ends that
 * lie on something else too stay where they are.
 * @param {Stroke[]} lines @param {number} index @param {Stroke} to @param {Place[]} ring @param {number} reach @returns {Stroke[]}
 */
export function carriedLines(lines, index, to, ring, reach = 0.3) {
  const old = lines[index];
  const rim = sides(ring);
  const on = (/** @type {Stroke} */ line, /** @type {Place} */ p, by = reach) => nearestOn(line, p).far <= by;
  const within = (/** @type {Place} */ p) => inside(ring, p) || rim.some((side) => on(side, p));
  const led = lines.map((line, i) => line.map((end) => i !== index && on(old, end)));
  const holds = (/** @type {number} */ j, /** @type {number} */ i, /** @type {Place} */ p) =>
    j !== i && j !== index && on(lines[j], p) && !lines[j].some((end, k) => led[j][k] && distance(end, p) <= 2 * reach);
  return lines.map((line, i) => {
    if (i === index) return to;
    const rails = [...rim, to, ...lines.filter((_, j) => j !== i && j !== index)];
    const moved = /** @type {Stroke} */ (
      line.map((end, k) => {
        if (!led[i][k] || rim.some((side) => on(side, end)) || lines.some((_, j) => holds(j, i, end))) return end;
        const met = meeting(line, to);
        if (met !== null && on(to, met) && within(met)) return met;
        return on(to, end) ? end : (drawnOn(line, /** @type {0 | 1} */ (k), rails) ?? end);
      })
    );
    const kept = (moved[1][0] - moved[0][0]) * (line[1][0] - line[0][0]) + (moved[1][1] - moved[0][1]) * (line[1][1] - line[0][1]);
    return kept <= 0 || distance(moved[0], moved[1]) < 1 ? line : moved;
  });
}

/** A stroke pushed sideways by a vector, its ends slid along the strokes they lie on, and past their ends along what is next to them. @param {Stroke} stroke @param {Place} by @param {Stroke[]} rails @returns {Stroke} */
export function slid(stroke, by, rails) {
  const moved = /** @type {Stroke} */ (stroke.map((p) => [p[0] + by[0], p[1] + by[1]]));
  return /** @type {Stroke} */ (
    stroke.map((end, k) => {
      const rail = rails.find((r) => nearestOn(r, end).far < 0.3);
      const met = rail ? meeting(moved, rail) : null;
      if (!rail || met === null) return moved[k];
      return nearestOn(rail, met).far < 1e-6 ? met : (nextTo(moved, met, rails) ?? met);
    })
  );
}

/** Where an endless line meets one of some rails nearest to a place; null when it meets none. @param {Stroke} line @param {Place} p @param {Stroke[]} rails @returns {Place | null} */
function nextTo(line, p, rails) {
  const met = rails.map((rail) => [rail, meeting(line, rail)]).filter(([rail, at]) => at !== null && nearestOn(rail, at).far < 1e-6);
  return met.map(([, at]) => at).sort((a, b) => distance(a, p) - distance(b, p))[0] ?? null;
}

/** A place rounded for the project file. @param {Place} p @returns {Place} */
export const written = ([x, y]) => [Math.round(x * 100) / 100, Math.round(y * 100) / 100];

/**
 * Where a stroke meets the first of some rails when it is drawn on past its end; null when it meets none.
 * @param {Stroke} stroke @param {0 | 1} end @param {Stroke[]} rails @returns {Place | null}
 */
export function drawnOn(stroke, end, rails) {
  const here = stroke[end];
  const back = stroke[1 - end];
  const long = distance(here, back);
  if (long < NEAR) return null;
  const unit = [(here[0] - back[0]) / long, (here[1] - back[1]) / long];
  let best = null;
  for (const rail of rails) {
    const met = meeting(stroke, rail);
    if (met === null || nearestOn(rail, met).far > 1e-6) continue;
    const far = (met[0] - here[0]) * unit[0] + (met[1] - here[1]) * unit[1];
    if (far > 0.01 && (best === null || far < best.far)) best = { met, far };
  }
  return best && best.met;
}

/**
 * Strokes without one of them; those that ended on it are drawn on to the next line or the rim. Of cuts (`ordered`) each is
 * drawn on to earlier ones only, as they were made.
 * @param {Stroke[]} strokes @param {number} index @param {Stroke[]} rim @param {boolean} ordered @returns {Stroke[]}
 */
export function without(strokes, index, rim, ordered) {
  const gone = strokes[index];
  const kept = strokes.filter((_, i) => i !== index);
  kept.forEach((stroke, i) => {
    const rails = [...rim, ...kept.filter((_, k) => (ordered ? k < i : k !== i))];
    kept[i] = /** @type {Stroke} */ (
      stroke.map((end, side) => {
        const loose = nearestOn(gone, end).far <= 0.3 && !rails.some((r) => nearestOn(r, end).far <= 0.05);
        return (loose && drawnOn(stroke, /** @type {0 | 1} */ (side), rails)) || end;
      })
    );
  });
  return kept;
}

/** An end moved by a vector: along the rail it lies on, or freely when it lies on none. @param {Stroke} stroke @param {0 | 1} end @param {Place} by @param {Stroke[]} rails @returns {Stroke} */
export function endMoved(stroke, end, by, rails) {
  const here = stroke[end];
  const rail = rails.find((r) => nearestOn(r, here).far < 0.3);
  const to = /** @type {Place} */ ([here[0] + by[0], here[1] + by[1]]);
  const moved = rail ? nearestOn(rail, to).at : to;
  return end === 0 ? [moved, stroke[1]] : [stroke[0], moved];
}
