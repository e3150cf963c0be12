// Prints of our own drawing, true to size: one tile of a pattern as plain shapes in mm. Pure, no page.

/** @typedef {{ way: string, colour: string, size: number, gap: number, turn: number }} Print */
/** @typedef {{ is: string, set: Record<string, string | number> }} Mark */
/** @typedef {{ wide: number, high: number, turn: number, marks: Mark[] }} Tile */

export const PRINTS = ["dots", "stripes", "checks", "leaves", "shells"];

/** What a print is like when it is taken first. */
export const USUAL = {
  dots: { size: 2.5, gap: 4.5, turn: 0 },
  stripes: { size: 2, gap: 4, turn: 0 },
  checks: { size: 5, gap: 5, turn: 0 },
  leaves: { size: 8, gap: 3, turn: 0 },
  shells: { size: 11, gap: 0, turn: 0 },
};

const LEAST = 0.5; // mm, below which nothing is drawn
const r3 = (v) => Math.round(v * 1000) / 1000;

/** The tile of a print. @param {Print} print @returns {Tile} */
export function tile(print) {
  const size = Math.max(LEAST, print.size);
  const step = size + Math.max(0, print.gap);
  const drawn = DRAW[print.way](size, step, print.colour);
  return { ...drawn, turn: print.turn, marks: drawn.marks.flatMap((m) => wrapped(m, drawn.wide, drawn.high)) };
}

const DRAW = {
  dots: (size, step, fill) => {
    const high = step * Math.sqrt(3);
    const dot = (x, y) => ({ is: "circle", set: { cx: r3(x), cy: r3(y), r: r3(size / 2), fill } });
    return { wide: step, high, marks: [dot(step / 2, high / 4), dot(0, (3 * high) / 4)] };
  },
  stripes: (size, step, fill) => ({ wide: step, high: 10, marks: [band(0, 0, size, 10, fill, 1)] }),
  checks: (size, step, fill) => ({ wide: step, high: step, marks: [band(0, 0, size, step, fill, 0.55), band(0, 0, step, size, fill, 0.55)] }),
  leaves: (size, step, fill) => ({
    wide: 2 * step,
    high: 2 * step,
    marks: [leaf(step / 2, step / 2, size, 32, fill), leaf((3 * step) / 2, step / 2, size, -32, fill), leaf(0, (3 * step) / 2, size, -32, fill), leaf(step, (3 * step) / 2, size, 32, fill)],
  }),
  shells: (size, step, stroke) => ({ wide: step, high: step, marks: [shell(step / 2, step / 2, size, stroke), shell(0, step, size, stroke)] }),
};

/** @returns {Mark} */
const band = (x, y, width, height, fill, opacity) => ({ is: "rect", set: { x, y, width: r3(width), height: r3(height), fill, "fill-opacity": opacity } });

/** A leaf with its midrib left free. @returns {Mark} */
function leaf(x, y, size, turn, fill) {
  const [h, w] = [r3(size / 2), r3(size * 0.24)];
  const half = (side) => `M0 ${h}C${side * w} ${r3(h * 0.4)} ${side * w} ${r3(-h * 0.4)} 0 ${-h}L${r3(side * size * 0.03)} ${r3(h * 0.7)}Z`;
  return { is: "path", set: { d: half(-1) + half(1), fill, transform: `translate(${r3(x)} ${r3(y)}) rotate(${turn})` } };
}

/** A shell that spreads upwards from its hinge: rim and three ribs. @returns {Mark} */
function shell(x, y, size, stroke) {
  const r = size / 2;
  const rib = (degrees) => {
    const a = (degrees * Math.PI) / 180;
    return `M0 0L${r3(Math.sin(a) * r * 0.9)} ${r3(-Math.cos(a) * r * 0.9)}`;
  };
  const d = `M${r3(-r)} 0A${r3(r)} ${r3(r)} 0 0 1 ${r3(r)} 0` + rib(-45) + rib(0) + rib(45);
  return { is: "path", set: { d, fill: "none", stroke, "stroke-width": r3(Math.max(0.25, size * 0.07)), transform: `translate(${r3(x)} ${r3(y)})` } };
}

/** A mark with its copies in the tiles round about, so that none is cut at the edge. @returns {Mark[]} */
function wrapped(mark, wide, high) {
  if (mark.is === "rect") return [mark];
  const own = mark.set.transform ? ` ${mark.set.transform}` : "";
  const copies = [];
  for (const i of [-1, 0, 1]) for (const j of [-1, 0, 1]) copies.push({ is: mark.is, set: { ...mark.set, transform: `translate(${r3(i * wide)} ${r3(j * high)})${own}` } });
  return copies;
}

/** The width in mm of a whole photograph in which two places lie `far` mm apart. @param {[number, number]} a in parts of width and height, 0 to 1 @param {[number, number]} b @param {[number, number]} pixels @param {number} far */
export function widthFrom(a, b, pixels, far) {
  const apart = Math.hypot((b[0] - a[0]) * pixels[0], (b[1] - a[1]) * pixels[1]);
  return apart < 1 ? null : (far * pixels[0]) / apart;
}
