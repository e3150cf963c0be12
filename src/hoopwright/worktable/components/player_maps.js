// The maps over the work: how thick the cloth lies, how close the needle holes. Colours and classes by plain reckoning, no page;
// classes differ in lightness, and what is too much has a colour of its own.

const STEPS = ["#fff7df", "#f3d9a4", "#dcae6b", "#b8814a", "#8a5a3a", "#5f3b2f", "#3d2620"];
export const TOO_MUCH = "#9c1f3c";
const LACE = [0, 2, 4, 6, 8]; // holes to the square mm where no cloth can be cut

/** Colours of so many classes, the palest first. @param {number} n */
export const shades = (n) => Array.from({ length: n }, (_, i) => STEPS[n === 1 ? 2 : Math.round((i * (STEPS.length - 1)) / (n - 1))]);

/**
 * Thicknesses in a few classes: the bounds between them in mm, from 0 to what fits under the foot, and last what does not.
 * @param {number[]} found @param {number} foot What fits under the foot, mm. @returns {{ from: number, to: number, much: boolean }[]}
 */
export function thicknessClasses(found, foot) {
  const under = Math.min(Math.max(0.25, ...found), foot);
  const step = [0.25, 0.5, 1].find((s) => under / s <= 7) ?? under / 7;
  const classes = [];
  for (let from = 0; from < under - 1e-6; from += step) classes.push({ from, to: Math.min(from + step, foot), much: false });
  return [...classes, { from: foot, to: Infinity, much: true }];
}

/** @param {ReturnType<typeof thicknessClasses>} classes @param {number} mm */
export function classOf(classes, mm) {
  const at = classes.findIndex((c) => mm <= c.to + 1e-6);
  return at < 0 ? classes.length - 1 : at;
}

/** The classes of needle holes to the square mm; the last cuts the cloth, but where there is none (`cuts` null). @param {number} area mm2 of the disc in which they are counted @param {number | null} cuts @returns {{ from: number, to: number, much: boolean }[]} */
export function holeClasses(area, cuts) {
  if (cuts === null) return LACE.map((from, i) => ({ from, to: LACE[i + 1] ?? Infinity, much: false }));
  const limit = cuts / area;
  const classes = [];
  for (let from = 0; from < limit - 0.25; from += 1) classes.push({ from, to: Math.min(from + 1, limit), much: false });
  classes[classes.length - 1].to = limit;
  return [...classes, { from: limit, to: Infinity, much: true }];
}

/**
 * A picture of the needle holes, red, green, blue, opaqueness for each place, rows from above down.
 * @param {Uint8Array} counts Columns from the left, each from below up. @param {[number, number]} size across, up @param {number} area @param {number} cuts
 */
export function holePicture(counts, [across, up], area, cuts) {
  const classes = holeClasses(area, cuts);
  const colours = (cuts === null ? shades(classes.length) : [...shades(classes.length - 1), TOO_MUCH]).map((c) => [1, 3, 5].map((k) => parseInt(c.slice(k, k + 2), 16)));
  const pixels = new Uint8ClampedArray(4 * across * up);
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < up; j++) {
      const count = counts[i * up + j];
      if (!count) continue;
      const k = cuts === null || count <= cuts ? classOf(classes, count / area) : classes.length - 1;
      pixels.set([...colours[k], 235], 4 * ((up - 1 - j) * across + i));
    }
  }
  return pixels;
}
