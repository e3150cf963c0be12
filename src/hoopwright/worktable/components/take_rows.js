// Findings in groups, sizes of files, spans of time: what the findings, the totals and the taking away have in common.

/** From what must be mended to what is good to know. */
export const SEVERITIES = ["blocks", "warns", "notes"];

/**
 * Findings by severity; those of one code that share a cure stand together, so that the cure is told once.
 * @template {{ severity: string, code: string, cure: string }} Row
 * @param {Row[]} rows
 * @returns {{ severity: string, count: number, cards: { key: string, cure: string, rows: Row[] }[] }[]}
 */
export function grouped(rows) {
  return SEVERITIES.map((severity) => {
    const mine = rows.filter((row) => row.severity === severity);
    /** @type {Map<string, { key: string, cure: string, rows: Row[] }>} */
    const cards = new Map();
    for (const row of mine) {
      const key = `${row.code} ${row.cure}`;
      if (!cards.has(key)) cards.set(key, { key, cure: row.cure, rows: [] });
      cards.get(key)?.rows.push(row);
    }
    return { severity, count: mine.length, cards: [...cards.values()] };
  }).filter((group) => group.count > 0);
}

const PLACE = /** @type {const} */ (["code", "path", "patch", "hooping", "step"]);

/**
 * The finding among `rows` that tells of the same place as `chosen`, also when its figures have changed since.
 * @template {Record<string, any>} Row
 * @param {Row[]} rows @param {Row | null} chosen @returns {Row | null}
 */
export function again(rows, chosen) {
  if (!chosen) return null;
  const near = rows.filter((row) => PLACE.every((key) => (row[key] ?? null) === (chosen[key] ?? null)));
  return near.find((row) => row.message === chosen.message) ?? near[0] ?? null;
}

/** The findings of `rows` that are not among `known`. @template {Record<string, any>} Row @param {Row[]} rows @param {Row[]} known */
export const besides = (rows, known) => {
  const seen = new Set(known.map((row) => `${row.code} ${row.message}`));
  return rows.filter((row) => !seen.has(`${row.code} ${row.message}`));
};

/** The size of a file in kB or MB (1000 and 1,000,000 bytes: SI). @param {number} bytes @param {string} language */
export function size(bytes, language) {
  const [value, unit] = bytes < 1e6 ? [Math.max(1, Math.round(bytes / 1e3)), "kB"] : [Math.round(bytes / 1e5) / 10, "MB"];
  return `${value.toLocaleString(language)} ${unit}`;
}

/** Whole minutes, and hours from 90 minutes on: [0, 45], [2, 5]. @param {number} minutes */
export function hours(minutes) {
  const whole = Math.ceil(minutes);
  return whole < 90 ? [0, whole] : [Math.floor(whole / 60), whole % 60];
}

/** A text with its full stop. @param {string | null | undefined} text */
export const sentence = (text) => (!text || /[.!?:]$/.test(text) ? (text ?? "") : `${text}.`);

const YARD = 0.9144; // metres

/** Thread to the next half metre, as the booklet tells it, with yards for makers who use inches. @param {number} metres @param {"mm" | "in"} units @param {string} language */
export function threadLength(metres, units, language) {
  const half = Math.ceil(metres * 2) / 2;
  const shown = `${half.toLocaleString(language, { maximumFractionDigits: 1 })} m`;
  return units === "in" ? `${shown} (${Math.ceil(half / YARD)} yd)` : shown;
}
