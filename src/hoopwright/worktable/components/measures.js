// Lengths as the maker writes them, with a comma or a point as her language does.

const INCH = 25.4;

let spoken = () => globalThis.document?.documentElement.lang || "en";

/** Let numbers be written in a language that may change. @param {() => string} language */
export function speakIn(language) {
  spoken = language;
}

/** A number as it can be typed again: "12.5", "12,5". @param {number} value @param {number} places at most */
export function decimal(value, places = 1) {
  const round = Math.round(value * 10 ** places) / 10 ** places + 0; // never "-0"
  return round.toLocaleString(spoken(), { maximumFractionDigits: places, useGrouping: false });
}

/** Inches after a number are called as the maker's language calls them. */
const inches = () => (spoken().startsWith("de") ? "Zoll" : "in");

/** @param {number} mm @param {"mm" | "in"} units */
export function length(mm, units) {
  if (units === "in") return `${eighths(mm / INCH)} ${inches()}`;
  return `${decimal(mm)} mm`;
}

/** A length as it is: in inches where it is a sixteenth of one, else in mm with all that is written of it. @param {number} mm @param {"mm" | "in"} units */
export function exact(mm, units) {
  const sixteenths = (mm / INCH) * 16;
  if (units === "in" && Math.abs(sixteenths - Math.round(sixteenths)) * (INCH / 16) < 0.006) return length(mm, "in");
  return `${decimal(mm, 2)} mm`;
}

/** Both sides of a size, their unit once: "108 × 92 mm". @param {number[]} size @param {"mm" | "in"} units */
export const sides = ([width, height], units) => `${bare(length(width, units))} × ${length(height, units)}`;

/** A length without its unit, where another one follows. @param {string} said */
export const bare = (said) => said.replace(/ (mm|in|Zoll)$/, "");

/** What a unit is called after a number. @param {"mm" | "in"} units */
export const unitName = (units) => (units === "in" ? inches() : "mm");

/** A limit as it can be typed: rounded so that what is told lies within it. @param {number} mm @param {"mm" | "in"} units @param {"least" | "most"} which @param {number} places of mm */
export function bound(mm, units, which, places = 1) {
  const mark = units === "in" ? INCH / 16 : 10 ** -places;
  const marks = which === "least" ? Math.ceil(mm / mark - 1e-6) : Math.floor(mm / mark + 1e-6);
  return units === "in" ? length(marks * mark, "in") : `${decimal(marks * mark, places)} mm`;
}

/** Inches in sixteenths, as on a ruler. @param {number} inches */
export function eighths(inches) {
  const all = Math.round(inches * 16);
  const whole = Math.trunc(all / 16);
  let part = Math.abs(all % 16);
  let of = 16;
  while (part && part % 2 === 0) {
    part /= 2;
    of /= 2;
  }
  const sign = all < 0 && whole === 0 ? "-" : "";
  if (!part) return `${sign}${whole}`;
  return whole ? `${whole} ${part}/${of}` : `${sign}${part}/${of}`;
}

/** Read what a maker types: "108", "108 mm", "4 1/4 in", '4.25"', "4 1/4 Zoll". Returns mm, or null. @param {string} text @param {"mm" | "in"} units */
export function readLength(text, units) {
  const match = text.trim().replace(",", ".").replace(/zoll$/i, "in").match(/^(-?)(?:(\d+(?:\.\d+)?)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))\s*(mm|cm|m|inches|inch|in|")?$/);
  if (!match) return null;
  const [, sign, whole, over, under, loneOver, loneUnder, unit] = match;
  const value = loneOver ? Number(loneOver) / Number(loneUnder) : Number(whole) + (over ? Number(over) / Number(under) : 0);
  const scale = { mm: 1, cm: 10, m: 1000, in: INCH, inch: INCH, inches: INCH, '"': INCH }[unit ?? units];
  const mm = (sign ? -1 : 1) * value * scale;
  return Number.isFinite(mm) ? mm : null;
}
