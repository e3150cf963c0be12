// A page that cannot start says so, with one thing to press, instead of staying empty: most often old and new parts have met
// after an upgrade. The words stand here, in both languages, as the catalogue may be what is missing.

const WORDS = [
  ["en", "This page could not start. Load it again."],
  ["de", "Diese Seite konnte nicht starten. Laden Sie sie neu."],
];
const PRESS = "Load again · Neu laden";

/** What is shown in place of a part that cannot start. */
export const NotStarted = {
  data: () => ({ words: WORDS, press: PRESS }),
  methods: { load: () => location.reload() },
  template: `<div class="table-lost not-started" role="alert"><p v-for="[language, text] in words" :key="language" :lang="language">{{ text }}</p><p><button @click="load">{{ press }}</button></p></div>`,
};

/** What a module gives; without it the module is of another version, and does not fit. @param {string} file @param {string} name */
export async function fetched(file, name) {
  const found = (await import(file))[name];
  if (!found) throw new SyntaxError(`${file} gives no ${name}`);
  return found;
}

/** Whether anything of ours is on the page. */
const started = () => document.querySelector(".table, .m-frame, .table-lost, .m-page, .m-foot, .m-bar") !== null;

function say() {
  if (started()) return;
  const box = document.createElement("div");
  box.className = "table-lost not-started";
  box.setAttribute("role", "alert");
  for (const [language, text] of WORDS) {
    const line = document.createElement("p");
    line.lang = language;
    line.textContent = text;
    box.append(line);
  }
  const button = document.createElement("button");
  button.textContent = PRESS;
  button.addEventListener("click", () => location.reload());
  box.append(button);
  document.body.append(box);
}

const WAIT_MS = 500; // what is on its way to the page may still come
const later = () => setTimeout(say, WAIT_MS);

globalThis.addEventListener?.("unhandledrejection", later);
globalThis.addEventListener?.("error", later, true); // a module that cannot be had says so where it stands, and no further
