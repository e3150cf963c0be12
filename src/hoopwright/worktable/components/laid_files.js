// Files of the maker's own that go with a project: taken in by the server, which looks into them before it keeps them.
import { ask, of, Trouble } from "/parts/ask.js";
import { t } from "/parts/texts.js";

/** Endings that a browser may offer, and how large a file may be (bytes). */
export const FILES = {
  stitches: { accept: ".dst,.exp,.jef,.pec,.pes,.u01,.vp3,.xxx", most: 3e6 },
  font: { accept: ".ttf,.otf", most: 11e6 },
  motif: { accept: ".svg", most: 2e6 },
};

/** Take a file in; what is wrong with it is thrown as Trouble. @param {string} name of the project @param {"stitches" | "font" | "motif"} kind @param {File} file @returns {Promise<any>} */
export async function takeIn(name, kind, file) {
  const { accept, most } = FILES[kind];
  const ending = /\.[^.]*$/.exec(file.name)?.[0].toLowerCase() ?? "";
  if (!accept.split(",").includes(ending)) throw new Trouble(t(`laid.file.wrong.${kind}`, { name: file.name }), "", 400);
  if (file.size > most) throw new Trouble(t("laid.file.large", { name: file.name, most: Math.round(most / 1e6) }), "", 413);
  const address = `${of(name)}/beside/${kind}?called=${encodeURIComponent(file.name.slice(-200))}`;
  let answer;
  try {
    answer = await fetch(address, { method: "POST", headers: { "content-type": "application/octet-stream" }, body: file });
  } catch {
    throw new Trouble(t("laid.file.offline"), "", 0);
  }
  const text = await answer.text();
  let said;
  try {
    said = JSON.parse(text);
  } catch {
    said = { message: text };
  }
  if (answer.ok) return said;
  throw new Trouble(said.message ?? t("laid.file.offline"), said.cure ?? "", answer.status);
}

/** The files that lie beside a project, by kind. @param {string} name @returns {Promise<Record<string, string[]>>} */
export const filesBeside = (name) => ask(`${of(name)}/beside`);
