// What part of the drafting surface is seen: fitted to the window, zoomed and moved. Pure functions, no page.

/** @typedef {{ left: number, top: number, width: number, height: number, mm: number }} Seen box in mm, y down, and mm per CSS pixel */
/** @typedef {{ near: number, x: number, y: number }} Camera how near, and the middle of what is seen in mm, y up; near 1 shows all */

const MOST = 12;

/** The whole panel with `margin` pixels round it. @param {number[]} bounds left, low, right, high @param {number} wide @param {number} high pixels @param {number} margin @returns {Seen} */
export function fitted([left, low, right, top], wide, high, margin) {
  const mm = Math.max((right - left) / Math.max(40, wide - 2 * margin), (top - low) / Math.max(40, high - 2 * margin));
  return { left: (left + right - wide * mm) / 2, top: (-top - low - high * mm) / 2, width: wide * mm, height: high * mm, mm };
}

/** @param {Seen} whole @param {Camera} camera @returns {Seen} */
export function seenBy(whole, { near, x, y }) {
  const [width, height] = [whole.width / near, whole.height / near];
  return { left: x - width / 2, top: -y - height / 2, width, height, mm: whole.mm / near };
}

/** @param {Seen} whole @returns {Camera} */
export const all = (whole) => ({ near: 1, x: whole.left + whole.width / 2, y: -(whole.top + whole.height / 2) });

/** Zoom by a factor so that the place `at` stays where it is on the glass. @param {Seen} whole @param {Camera} camera @param {number} by @param {number[]} at @returns {Camera} */
export function zoomed(whole, camera, by, [px, py]) {
  const near = Math.min(MOST, Math.max(1, camera.near * by));
  const k = camera.near / near;
  return held(whole, { near, x: px + (camera.x - px) * k, y: py + (camera.y - py) * k });
}

/** @param {Seen} whole @param {Camera} camera @param {number[]} by mm @returns {Camera} */
export const moved = (whole, camera, [dx, dy]) => held(whole, { ...camera, x: camera.x + dx, y: camera.y + dy });

/** Keep what is seen within the whole. @param {Seen} whole @param {Camera} camera @returns {Camera} */
function held(whole, { near, x, y }) {
  const middle = all(whole);
  const [w, h] = [(whole.width * (1 - 1 / near)) / 2, (whole.height * (1 - 1 / near)) / 2];
  const between = (v, m, r) => Math.min(m + r, Math.max(m - r, v));
  return { near, x: between(x, middle.x, w), y: between(y, middle.y, h) };
}
