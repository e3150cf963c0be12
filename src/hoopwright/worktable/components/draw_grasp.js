// What the hand takes hold of on the board, and where it puts it. Pure functions, no page.
import { angleOf, between, distance, inside, meeting, nearestOn, sides, snapTo, snapTurn } from "/parts/geometry.js";

/** @typedef {import("/parts/geometry.js").Place} Place */
/** @typedef {import("/parts/geometry.js").Stroke} Stroke */

/** Degrees between the angles that catch. */
export const TURN = 15;

/**
 * The cut under the hand: an end of it, or its middle; null when none is within reach.
 * @param {Stroke[]} strokes @param {Place} p @param {number} reach mm @param {number | null} chosen its ends go before others
 */
export function grasped(strokes, p, reach, chosen) {
  let best = null;
  strokes.forEach((stroke, index) => {
    const near = nearestOn(stroke, p);
    const ends = stroke.map((e) => distance(e, p));
    const end = ends[0] <= ends[1] ? 0 : 1;
    const far = Math.min(near.far, ends[end]) - (index === chosen ? reach / 3 : 0);
    if (Math.min(near.far, ends[end]) > reach || (best && best.far <= far)) return;
    const atEnd = ends[end] <= Math.min(reach, distance(stroke[0], stroke[1]) / 3);
    best = { kind: atEnd ? "end" : "slide", index, end, far, start: p, stroke, was: stroke };
  });
  return best;
}

/** Where an end is meant to go: at an even angle to its other end, and on a line that is near. @param {Place} fixed @param {Place} p @param {Stroke[]} rails @param {number} reach @returns {Place} */
export function aimed(fixed, p, rails, reach) {
  const turned = snapTurn(fixed, p, 0, TURN);
  const even = distance(turned, p) <= reach ? turned : p;
  const corner = rails.flat().find((c) => distance(c, p) <= reach / 2);
  if (corner) return corner;
  return snapTo(rails, even, reach) ?? even;
}

/**
 * An end outside the outline brought onto it: back along its cut where that crosses the outline, else to the nearest place.
 * @param {Place} fixed the other end @param {Place} p @param {Place[]} outline @returns {Place}
 */
export function broughtIn(fixed, p, outline) {
  if (inside(outline, p)) return p;
  const rim = sides(outline);
  const met = rim.map((side) => ({ side, at: meeting([fixed, p], side) })).filter(({ side, at }) => at && nearestOn(side, at).far < 1e-6 && nearestOn([fixed, p], at).far < 1e-6);
  const away = met.map(({ at }) => at).filter((at) => distance(at, fixed) > 1);
  return away.sort((a, b) => distance(a, p) - distance(b, p))[0] ?? snapTo(rim, p, Infinity) ?? p;
}

/** A cut turned about its middle by so many degrees, its ends still on the lines they lay on. @param {Stroke} stroke @param {number} degrees @param {Stroke[]} rails @returns {Stroke} */
export function turned([a, b], degrees, rails) {
  const middle = between(a, b, 0.5);
  const angle = ((angleOf([a, b]) + degrees) * Math.PI) / 180;
  const far = /** @type {Place} */ ([middle[0] + Math.cos(angle), middle[1] + Math.sin(angle)]);
  const half = distance(a, b) / 2;
  return /** @type {Stroke} */ (
    [a, b].map((end, k) => {
      const rail = rails.find((r) => nearestOn(r, end).far < 0.3);
      const met = rail ? meeting([middle, far], rail) : null;
      const plain = [-half, half][k];
      return met !== null && nearestOn(rail, met).far < 1e-6 ? met : [middle[0] + Math.cos(angle) * plain, middle[1] + Math.sin(angle) * plain];
    })
  );
}

/** What an end can be caught by: the outline and all other cuts. @param {Place[]} outline @param {Stroke[]} strokes @param {number} index @returns {Stroke[]} */
export const railsOf = (outline, strokes, index) => [...sides(outline), ...strokes.filter((_, i) => i !== index)];
