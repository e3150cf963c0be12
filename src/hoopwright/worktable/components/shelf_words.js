// Words of the shelf: names of recipes and settings in the maker's language, those of other packages as they came.
import { LONGEST_TITLE } from "/parts/shelf_form.js";
import { t, texts } from "/parts/texts.js";

/** A text of the catalogue, or what stands in for one that is not there. @param {string} key @param {string} otherwise */
export const known = (key, otherwise) => (key in texts.words ? t(key) : otherwise);

/** Title and summary of a recipe. @param {{ name: string, title: string, summary: string }} recipe */
export const namesOf = (recipe) => ({
  title: known(`recipe.${recipe.name}`, recipe.title),
  summary: known(`recipe.${recipe.name}.about`, recipe.summary),
});

/** What a project makes, by the name of its recipe. @param {string} item */
export const titleOf = (item) => known(`recipe.${item}`, item);

/** A setting of a recipe. @param {string} name */
export const settingOf = (name) => known(`make.${name}`, name.replaceAll("_", " "));

/** A choice of a setting. @param {string} setting @param {string} value */
export const choiceOf = (setting, value) => known(`make.${setting}.${value}`, known(`make.choice.${value}`, value));

/** A text cut to so many letters; what was cut off is marked. @param {string} text @param {number} most */
export function cutTo(text, most = LONGEST_TITLE) {
  const letters = Array.from(text);
  return letters.length <= most ? text : `${letters.slice(0, most - 1).join("").trimEnd()}…`;
}

/** The title of a copy: the title is shortened where there is not room for both, never the word for a copy. @param {string} title */
export function copyTitle(title) {
  const more = Array.from(t("shelf.copy.title", { title: "" })).length;
  return t("shelf.copy.title", { title: cutTo(title, LONGEST_TITLE - more) });
}

/** The projects whose title or item has all the words that are sought. @template {{ title: string, item: string }} P @param {P[]} projects @param {string} sought @param {string} language @returns {P[]} */
export function matching(projects, sought, language = "en") {
  const words = sought.toLocaleLowerCase(language).split(/\s+/).filter(Boolean);
  if (!words.length) return projects;
  return projects.filter((p) => {
    const text = `${p.title} ${titleOf(p.item)}`.toLocaleLowerCase(language);
    return words.every((word) => text.includes(word));
  });
}

const TABLES = ["machine", "hoop", "piecing", "stitching"];

/** What the engine says of settings by their places in the project file, by the names that their fields have. @param {string} text */
export const inWords = (text) =>
  text.replace(/\[(make|machine|hoop|foundation|piecing|stitching)\]/g, (_, table) => t("set.called", { name: t(table === "make" ? "make.title" : "set.title") })).replace(/\b(?:(make|machine|hoop|foundation|piecing|stitching)\.([a-z_]+)|([a-z]+(?:_[a-z]+)+))/g, (place, table, name, alone, at, whole) => {
    const keys = alone ? ["make", ...TABLES.map((other) => `set.${other}`)].map((other) => `${other}.${alone}`) : [table === "make" ? `make.${name}` : `set.${place}`];
    const key = keys.find((one) => one in texts.words);
    if (!key) return place;
    return /["“„«]/.test(whole[at - 1] ?? "") ? t(key) : t("set.called", { name: t(key) });
  });
