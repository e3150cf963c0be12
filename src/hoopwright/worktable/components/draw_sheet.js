// How a photograph of a sketch lies under the pieces. Pure functions, no page.

/** @typedef {{ width: number, height: number, x: number, y: number, scale: number, turn: number, seen: number, shown: boolean }} Sheet */

/** The SVG transform that puts the photograph (pixels, from its upper left corner) on the board (mm, y down). @param {Sheet} s */
export const lying = (s) => `translate(${s.x} ${-s.y}) rotate(${-s.turn}) scale(${s.scale}) translate(${-s.width / 2} ${-s.height / 2})`;

/** The sheet with its scale changed so that two places that lie `a` and `b` now lie `length` mm apart; `a` stays. @param {Sheet} s @param {number[]} a @param {number[]} b @param {number} length @returns {Sheet} */
export function rescaled(s, a, b, length) {
  const now = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (now < 0.01 || !(length > 0)) return s;
  const k = Math.min(9 / s.scale, Math.max(0.002 / s.scale, length / now));
  return { ...s, scale: s.scale * k, x: a[0] + (s.x - a[0]) * k, y: a[1] + (s.y - a[1]) * k };
}
