// What a card says, in words; no page needed.
import { length } from "/parts/measures.js";

/** @typedef {(key: string, values?: Record<string, string | number>) => string} Words */

/** "about 4 min", "less than a minute", "1 h 20 min". @param {number} minutes @param {Words} t */
export function spell(minutes, t) {
  const whole = Math.round(minutes);
  if (whole < 1) return minutes > 0 ? t("machine.time.less") : t("machine.time.none");
  if (whole < 60) return t("machine.time.minutes", { n: whole });
  return t("machine.time.hours", { h: Math.floor(whole / 60), n: whole % 60 });
}

/** "3:05". @param {number} seconds */
export function ticks(seconds) {
  const whole = Math.max(0, Math.floor(seconds));
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  const rest = String(whole % 60).padStart(2, "0");
  return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${rest}` : `${minutes}:${rest}`;
}

/** Where a laid piece goes and which way it looks: a few short sentences. @param {object} lay @param {"mm" | "in"} units @param {Words} t */
export function layFacts(lay, units, t) {
  const facts = [];
  if (lay.under) facts.push({ text: t("machine.under"), strong: true });
  if (lay.folded) facts.push({ text: t("machine.folded"), strong: false });
  facts.push({ text: t(`machine.way.${lay.way}`), strong: true });
  if (lay.edge) facts.push({ text: t("machine.edge", { past: length(lay.edge.past, units), line: lineWords(lay.edge.line, t) }), strong: true });
  return facts;
}

const LINES = { "the placement line": "placement", "the seam line": "seam" };

/** The line that a raw edge lies past. @param {string} line as the plan calls it @param {Words} t */
export function lineWords(line, t) {
  if (line in LINES) return t(`machine.line.${LINES[line]}`);
  const numbers = line.match(/^the seam between (\S+) and (\S+)$/);
  if (numbers) return t("machine.line.between", { a: numbers[1], b: numbers[2] });
  return line;
}

/** What the hands do, in a word, with the piece where that helps. @param {object} hand @param {Words} t */
export function workWords(hand, t) {
  const piece = hand.piece ? (hand.piece.patch ? t("machine.piece.patch", { sign: hand.piece.sign }) : hand.piece.sign) : "";
  const work = t(`machine.work.${hand.work}`);
  return piece && ["lay", "flip", "trim", "open"].includes(hand.work) ? `${work}: ${piece}` : work;
}

/** "Colour 5 of 22", "Colours 16 to 21 of 22". @param {object[]} sews @param {number} colours @param {Words} t */
export function colourWords(sews, colours, t) {
  const first = sews[0].number;
  const last = sews[sews.length - 1].number;
  return first === last ? t("machine.colour.one", { n: first, of: colours }) : t("machine.colour.many", { n: first, to: last, of: colours });
}

/** "Halt 3 of 14", or that the machine runs on. @param {object} card @param {object} hooping @param {Words} t */
export function haltWords(card, hooping, t) {
  if (card.kind === "assembly") return t("machine.assembly");
  if (card.kind === "end") return t("machine.end");
  if (!card.waits) return t("machine.runs");
  return t("machine.halt", { n: card.halt, of: hooping.halts });
}

/** The place after or before a place. @param {object[]} cards @param {string} at @param {number} by */
export function beside(cards, at, by) {
  const places = ["before", ...cards.map((c) => c.place), "done"];
  const k = places.indexOf(at) + by;
  return places[Math.min(Math.max(k, 0), places.length - 1)];
}

/** One line of the list of halts: what is done there. @param {object} card @param {Words} t */
export function lineOf(card, t) {
  const done = card.hands.map((h) => workWords(h, t));
  const sewn = card.sews.length ? card.sews[0].title : "";
  if (done.length) return done.slice(0, 3).join(", ");
  return sewn;
}
