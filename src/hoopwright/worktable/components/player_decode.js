// The needle positions of a hooping as they come from the worktable, in typed arrays. Pure functions, no page.
// The form of the bytes is told in hoopwright.outputs.screen.needles.

const FORM = 1;
export const NOWHERE = 0xffff;
export const UNIT = 100; // steps to the mm

/**
 * @typedef {object} Needles
 * @property {number} runs
 * @property {number} count Needle positions.
 * @property {Uint32Array} starts First position of every run, and the number of positions.
 * @property {Int16Array} xy x, y, x, y … in hundredths of a mm.
 * @property {Uint16Array} top The surface on which the stitch to each position lies, from above.
 * @property {Uint16Array} under The same from under the hoop.
 * @property {Uint16Array} topGone The moment of the hooping at which the cloth with the stitch is cut off, NOWHERE for never.
 * @property {Uint16Array} underGone
 * @property {Uint8Array} opens 1 where a run begins: no thread leads to this position.
 */

/** @param {ArrayBuffer} bytes @returns {Needles} */
export function decode(bytes) {
  if (bytes.byteLength < 16) throw new RangeError("needle positions end too early");
  const [form, runs, count] = new Uint32Array(bytes, 0, 4);
  if (form !== FORM) throw new RangeError(`needle positions of form ${form}, where ${FORM} is known`);
  const size = 16 + 4 * (runs + 1) + 12 * count;
  if (bytes.byteLength !== size) throw new RangeError(`${bytes.byteLength} bytes of needle positions, where ${size} are due`);
  const starts = new Uint32Array(bytes, 16, runs + 1);
  const from = 16 + 4 * (runs + 1);
  const opens = new Uint8Array(count);
  for (let r = 0; r < runs; r++) if (starts[r] < count) opens[starts[r]] = 1;
  return {
    runs,
    count,
    starts,
    xy: new Int16Array(bytes, from, 2 * count),
    top: new Uint16Array(bytes, from + 4 * count, count),
    under: new Uint16Array(bytes, from + 6 * count, count),
    topGone: new Uint16Array(bytes, from + 8 * count, count),
    underGone: new Uint16Array(bytes, from + 10 * count, count),
    opens,
  };
}

/**
 * Stretches of stitches that lie on one surface: for every surface first, end, block, first, end, block … in the order of sewing.
 * A stretch lies in one run and one block.
 * @param {Needles} needles @param {Uint16Array} owners @param {Uint32Array} ends Where each block ends. @param {number} surfaces
 * @returns {Int32Array[]}
 */
export function stretches(needles, owners, ends, surfaces) {
  /** @type {number[][]} */
  const found = Array.from({ length: surfaces }, () => []);
  let block = 0;
  let first = 0;
  for (let i = 1; i <= needles.count; i++) {
    while (block < ends.length && ends[block] <= first) block++;
    const goes = i < needles.count && owners[i] === owners[first] && !needles.opens[i] && i < ends[block];
    if (goes) continue;
    if (owners[first] < surfaces) found[owners[first]].push(first, i, block);
    first = i;
  }
  return found.map((row) => Int32Array.from(row));
}
