// What was done and when, in the maker's words.
import { t, texts } from "/parts/texts.js";

/** What the server itself calls a version. */
const KNOWN = { opened: "did.opened", "changed outside": "did.outside", renamed: "did.renamed" };

/** @param {string} what */
export const did = (what) => (what in KNOWN ? t(KNOWN[what]) : what);

const DAY = 24 * 3600 * 1000;

/** The start of a day. @param {Date} date */
const dayOf = (date) => new Date(date.getFullYear(), date.getMonth(), date.getDate()).getTime();

/** "just now", "12 minutes ago", "today, 14:03", "yesterday, 9:40", "3 March 2026". @param {number} seconds @param {number} now in milliseconds @param {string} language */
export function when(seconds, now = Date.now(), language = texts.language) {
  const then = new Date(seconds * 1000);
  const minutes = Math.floor((now - then.getTime()) / 60000);
  if (minutes < 1) return t("when.now");
  if (minutes < 60) return new Intl.RelativeTimeFormat(language).format(-minutes, "minute");
  const clock = then.toLocaleTimeString(language, { hour: "numeric", minute: "2-digit" });
  const days = Math.round((dayOf(new Date(now)) - dayOf(then)) / DAY);
  if (days === 0) return t("when.today", { clock });
  if (days === 1) return t("when.yesterday", { clock });
  return then.toLocaleDateString(language, { day: "numeric", month: "long", year: "numeric" });
}
