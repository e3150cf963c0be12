// What is hard to tell apart, gathered so that one thing is said once. Pure, no page.

/** @typedef {{ way: "cloths" | "thread", patches: string[], cloths: string[], thread?: string, seam?: number, apart: number, plain: number, at: [number, number] }} Row */
/** @typedef {{ key: string, way: string, rows: Row[], pairs: string[][], seams: number[], first: Row }} Group */

/** Rows of the same two cloths, or of the same thread on the same cloth, together. @param {Row[]} rows @returns {Group[]} */
export function gathered(rows) {
  /** @type {Map<string, Row[]>} */
  const found = new Map();
  for (const row of rows) {
    const key = [row.way, row.thread ?? "", ...row.cloths.slice().sort()].join(" ");
    found.set(key, [...(found.get(key) ?? []), row]);
  }
  return [...found].map(([key, same]) => ({
    key,
    way: same[0].way,
    rows: same,
    first: same[0],
    pairs: same.map((r) => (r.cloths[0] === same[0].cloths[0] ? r.patches : r.patches.slice().reverse())),
    seams: [...new Set(same.flatMap((r) => (r.seam === undefined ? [] : [r.seam])))].sort((a, b) => a - b),
  }));
}
