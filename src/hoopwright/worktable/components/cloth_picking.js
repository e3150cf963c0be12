// Choosing from a grid of pictures by words and keys. Pure, no page.

/** The rows that hold every word. @template {{ name: string, said: string }} R @param {R[]} rows @param {string} words @returns {R[]} */
export function matching(rows, words) {
  const wanted = plain(words).split(/\s+/).filter(Boolean);
  return rows.filter((row) => wanted.every((w) => plain(`${row.name} ${row.said}`).includes(w)));
}

/** Small letters without marks, so that "tete" finds "Tête". @param {string} text */
export const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").replace(/ß/g, "ss").toLowerCase();

/** Where a key leads to in a grid of `count` pictures, `columns` in a row; null for a key that leads nowhere. @param {string} key @param {number} at @param {number} count @param {number} columns */
export function stepped(key, at, count, columns) {
  if (count === 0) return null;
  const last = count - 1;
  const here = Math.min(Math.max(at, 0), last);
  const to = {
    ArrowLeft: here - 1,
    ArrowRight: here + 1,
    ArrowUp: here - columns < 0 ? here : here - columns,
    ArrowDown: here + columns > last ? (Math.floor(here / columns) < Math.floor(last / columns) ? last : here) : here + columns,
    Home: 0,
    End: last,
    PageUp: Math.max(here % columns, here - 3 * columns),
    PageDown: here + 3 * columns > last ? last : here + 3 * columns,
  }[key];
  if (to === undefined) return null;
  return at < 0 ? 0 : Math.min(Math.max(to, 0), last);
}

/** How many stand in the first row. @param {number[]} tops the upper edges of all pictures */
export const columnsOf = (tops) => Math.max(1, tops.filter((y) => Math.abs(y - tops[0]) < 2).length);

/** The height in pixels of a grid whose rows lie at `tops` and are `high` each, so that it ends in the middle of a row when it goes on; null when all has room. @param {number[]} tops @param {number} high @param {number} most */
export function peeking(tops, high, most) {
  const rows = [...new Set(tops)].sort((a, b) => a - b);
  if (!Number.isFinite(most) || rows[rows.length - 1] - rows[0] + high <= most) return null;
  const cut = rows.map((top) => top + high * 0.45).filter((end) => end <= most);
  return `${Math.round(cut[cut.length - 1] ?? most)}px`;
}
