// How far colours lie apart for the eye, to propose a thread that shows. Pure, no page.

const KNEE = (6 / 29) ** 3;
const WHITE = [0.95047, 1, 1.08883]; // D65

/** CIE L*a*b* of "#rrggbb" (IEC 61966-2-1, ISO/CIE 11664-4). @param {string} colour @returns {[number, number, number]} */
export function labOf(colour) {
  const [r, g, b] = [1, 3, 5].map((i) => parseInt(colour.slice(i, i + 2), 16) / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  const xyz = [0.4124 * r + 0.3576 * g + 0.1805 * b, 0.2126 * r + 0.7152 * g + 0.0722 * b, 0.0193 * r + 0.1192 * g + 0.9505 * b];
  const [x, y, z] = xyz.map((v, i) => v / WHITE[i]).map((v) => (v > KNEE ? Math.cbrt(v) : v / (3 * (6 / 29) ** 2) + 4 / 29));
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** @param {string} one @param {string} other */
export function apart(one, other) {
  const [a, b] = [labOf(one), labOf(other)];
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** How plainly a thin thread shows on a colour: light and dark tell more of it than the hue. @param {string} one @param {string} other */
function seen(one, other) {
  const [a, b] = [labOf(one), labOf(other)];
  return Math.hypot(a[0] - b[0], (a[1] - b[1]) / 2, (a[2] - b[2]) / 2);
}

/** The thread that shows best beside other colours: the one whose nearest of them is farthest; the first of equals. @param {Record<string, { colour: string }>} threads @param {string[]} beside @returns {string | null} */
export function showing(threads, beside) {
  const far = (/** @type {string} */ colour) => Math.min(...beside.map((b) => seen(colour, b)));
  const rows = Object.entries(threads).map(([key, thread]) => ({ key, far: far(thread.colour) }));
  return rows.reduce((best, row) => (best === null || row.far > best.far ? row : best), /** @type {{ key: string, far: number } | null} */ (null))?.key ?? null;
}
