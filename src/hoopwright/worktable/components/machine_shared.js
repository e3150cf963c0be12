// At the machine, on another device: no framework, only the halts. It talks to the server that shares them, and to nothing else.
import { el } from "/parts/machine_dom.js";
import { MachineView } from "/parts/machine_view.js";

const LANGUAGE = "hoopwright.language";
const LIGHT = "hoopwright.light";
const LIGHTS = { auto: "day", day: "evening", evening: "auto" };
const state = { words: {}, languages: [], language: "en", light: localStorage.getItem(LIGHT) ?? "auto" };

class Refused extends Error {
  constructor(message, cure, status) {
    super(message);
    this.cure = cure;
    this.status = status;
  }
}

async function ask(path, body = null) {
  const spoken = { "accept-language": document.documentElement.lang || "en" };
  const how = body === null ? { headers: spoken } : { method: "POST", headers: { "content-type": "application/json", ...spoken }, body: JSON.stringify(body) };
  const answer = await fetch(path, { ...how, cache: "no-store" });
  if (answer.ok) return answer.json();
  if (answer.status === 401) {
    location.reload(); // the maker shares anew, with another code
    throw new Refused(t("machine.offline"), t("machine.offline.cure"), 0);
  }
  const said = await answer.json().catch(() => ({}));
  throw new Refused(said.message ?? answer.statusText, said.cure ?? "", answer.status);
}

const t = (key, values = {}) => (state.words[key] ?? key).replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));

async function loadWords(wanted) {
  const said = await ask(`/words/${encodeURIComponent(wanted ?? localStorage.getItem(LANGUAGE) ?? navigator.language.slice(0, 2))}`);
  Object.assign(state, said);
  document.documentElement.lang = said.language;
  document.title = `${t("machine.title")} · Hoopwright`;
  if (wanted) localStorage.setItem(LANGUAGE, wanted);
}

function shine() {
  if (state.light === "auto") delete document.documentElement.dataset.light;
  else document.documentElement.dataset.light = state.light;
}

function bar() {
  const languages = el("select", { "aria-label": t("machine.language") }, ...state.languages.map((l) => el("option", { value: l.code, selected: l.code === state.language }, l.name)));
  languages.addEventListener("change", async () => {
    await loadWords(languages.value);
    place.replaceChildren(...bar());
    view.again();
  });
  const light = el("button.plain", null, t(`machine.light.${state.light}`));
  light.addEventListener("click", () => {
    state.light = LIGHTS[state.light];
    localStorage.setItem(LIGHT, state.light);
    shine();
    place.replaceChildren(...bar());
  });
  return [el("span.m-shared", null, t("machine.shared")), el("span.m-space"), light, languages];
}

shine();
await loadWords(null);
const place = el("div.m-bar", null, ...bar());
const root = el("div");
document.body.append(el("div.m-frame", null, place, root));
const view = new MachineView(root, { ask: (path, body) => ask(`/machine${path}`, body), t, pictures: "/machine/pictures" });
await view.start();
