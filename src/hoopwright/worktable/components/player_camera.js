// Where the hoop lies on the canvas: plain reckoning with affine maps [a, b, c, d, e, f], as the canvas takes them:
// X = a x + c y + e, Y = b x + d y + f. Places are mm, y up; the canvas counts device pixels, y down. No page.

/** @typedef {[number, number, number, number, number, number]} Affine */
/** @typedef {{ x: number, y: number, zoom: number }} Camera The place in the middle, and how often larger than the whole hoop. */
/** @typedef {{ width: number, height: number }} Size */

export const ROUND_HOOP = 20; // mm from the field to the rim of what is shown
export const CLOSEST = 40;

/** @type {Camera} */
export const WHOLE = { x: 0, y: 0, zoom: 1 };

/** Pixels to the mm. @param {[number, number]} field @param {Size} size @param {Camera} camera */
export function scaleOf(field, size, camera) {
  return Math.min(size.width / (field[0] + 2 * ROUND_HOOP), size.height / (field[1] + 2 * ROUND_HOOP)) * camera.zoom;
}

/** From mm to pixels; from under the hoop left and right change places. @param {[number, number]} field @param {Size} size @param {Camera} camera @param {"top" | "under"} side @returns {Affine} */
export function view(field, size, camera, side) {
  const scale = scaleOf(field, size, camera);
  const across = side === "under" ? -scale : scale;
  return [across, 0, 0, -scale, size.width / 2 - across * camera.x, size.height / 2 + scale * camera.y];
}

/** @param {Affine} m @param {number} x @param {number} y @returns {[number, number]} */
export const carry = (m, x, y) => [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]];

/** First one map, then the other. @param {Affine} then @param {Affine} first @returns {Affine} */
export function after(then, first) {
  const [a, b, c, d, e, f] = first;
  return [
    then[0] * a + then[2] * b,
    then[1] * a + then[3] * b,
    then[0] * c + then[2] * d,
    then[1] * c + then[3] * d,
    then[0] * e + then[2] * f + then[4],
    then[1] * e + then[3] * f + then[5],
  ];
}

/** @param {Affine} m @returns {Affine} */
export function undone([a, b, c, d, e, f]) {
  const by = 1 / (a * d - b * c);
  return [d * by, -b * by, -c * by, a * by, (c * f - d * e) * by, (b * e - a * f) * by];
}

/** A placing as the run sheet tells it, x' = a x + b y + x0, y' = c x + d y + y0. @param {number[]} placing @returns {Affine} */
export const placed = ([a, b, c, d, x0, y0]) => [a, c, b, d, x0, y0];

/** What lies beside a line is drawn nearer to it by `by`: 1 as it lies, 0 on the line, -1 mirrored. @param {number[]} line x1, y1, x2, y2 @param {number} by @returns {Affine} */
export function squeezed([x1, y1, x2, y2], by) {
  const long = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [nx, ny] = [(y1 - y2) / long, (x2 - x1) / long];
  const k = by - 1;
  const off = nx * x1 + ny * y1;
  return [1 + k * nx * nx, k * nx * ny, k * nx * ny, 1 + k * ny * ny, -k * nx * off, -k * ny * off];
}

/** Larger or smaller about a pixel, which stays where it is. @param {[number, number]} field @param {Size} size @param {Camera} camera @param {"top" | "under"} side @param {number} by @param {[number, number]} about @returns {Camera} */
export function zoomed(field, size, camera, side, by, about) {
  const zoom = Math.min(CLOSEST, Math.max(1, camera.zoom * by));
  const [x, y] = carry(undone(view(field, size, camera, side)), about[0], about[1]);
  const now = carry(undone(view(field, size, { ...camera, zoom }, side)), about[0], about[1]);
  return kept(field, { x: camera.x + x - now[0], y: camera.y + y - now[1], zoom });
}

/** Moved by pixels. @param {[number, number]} field @param {Size} size @param {Camera} camera @param {"top" | "under"} side @param {number} dx @param {number} dy @returns {Camera} */
export function moved(field, size, camera, side, dx, dy) {
  const m = view(field, size, camera, side);
  return kept(field, { ...camera, x: camera.x - dx / m[0], y: camera.y - dy / m[3] });
}

/** The middle stays over the field, and the whole hoop in the middle. @param {[number, number]} field @param {Camera} camera @returns {Camera} */
function kept(field, { x, y, zoom }) {
  if (zoom <= 1) return WHOLE;
  const reach = (side) => (side / 2 + ROUND_HOOP) * (1 - 1 / zoom);
  const bound = (v, most) => Math.min(most, Math.max(-most, v));
  return { x: bound(x, reach(field[0])), y: bound(y, reach(field[1])), zoom };
}
