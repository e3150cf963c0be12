// The worktable: head, the screen in the middle, what was found beside it, the totals below.
import { defineAsyncComponent, markRaw } from "vue";
import { openProject } from "/parts/store.js";
import { loadTexts, t, texts } from "/parts/texts.js";
import { Findings } from "/parts/findings.js";
import { Totals } from "/parts/totals.js";

const SCREENS = ["draw", "cloth", "sew", "take"];
const screen = (file, name) => markRaw(defineAsyncComponent(() => import(`/parts/${file}.js`).then((m) => m[name])));
const PARTS = {
  shelf: screen("shelf", "Shelf"),
  draw: screen("draw", "Draw"),
  cloth: screen("cloth", "Cloth"),
  sew: screen("sew", "Sew"),
  take: screen("take", "Take"),
};
const LIGHT = "hoopwright.light";

export const Table = {
  components: { Findings, Totals },
  props: { screen: String, name: String },
  data() {
    return { ready: false, at: this.screen, store: null, light: localStorage.getItem(LIGHT) ?? "auto", screens: SCREENS };
  },
  async mounted() {
    this.shine();
    window.addEventListener("popstate", this.back);
    window.addEventListener("keydown", this.key);
    await loadTexts();
    if (this.name) {
      this.store = openProject(this.name);
      await this.store.load();
    }
    this.ready = true;
  },
  unmounted() {
    window.removeEventListener("popstate", this.back);
    window.removeEventListener("keydown", this.key);
  },
  computed: {
    part() {
      return PARTS[this.at] ?? PARTS.shelf;
    },
    title() {
      return this.store?.project?.title ?? "Hoopwright";
    },
    said() {
      if (this.store && !this.store.online) return { message: t("trouble.offline"), cure: t("trouble.offline.cure") };
      const trouble = this.store?.trouble;
      return trouble ? { message: trouble.message, cure: trouble.cure } : null;
    },
    language: {
      get: () => texts.language,
      set: (language) => loadTexts(language),
    },
    languages: () => texts.languages,
  },
  watch: {
    title(now) {
      document.title = now === "Hoopwright" ? now : `${now} · Hoopwright`;
    },
  },
  methods: {
    t,
    go(to, event) {
      if (event.metaKey || event.ctrlKey || event.shiftKey) return;
      event.preventDefault();
      history.pushState({}, "", event.currentTarget.getAttribute("href"));
      this.at = to;
      this.$nextTick(() => document.getElementById("screen")?.focus());
    },
    back() {
      const parts = location.pathname.split("/");
      this.at = parts[1] === "project" ? parts[3] : "shelf";
    },
    key(event) {
      const typing = event.target instanceof HTMLElement && event.target.closest("input, textarea, select");
      if (!this.store || typing || !(event.ctrlKey || event.metaKey)) return;
      if (event.key.toLowerCase() === "z" && !event.shiftKey) this.act(event, this.store.undoOne);
      if (event.key.toLowerCase() === "y" || (event.key.toLowerCase() === "z" && event.shiftKey)) this.act(event, this.store.redoOne);
    },
    act(event, work) {
      event.preventDefault();
      work();
    },
    link(to) {
      return `/project/${encodeURIComponent(this.name)}/${to}`;
    },
    shine() {
      if (this.light === "auto") delete document.documentElement.dataset.light;
      else document.documentElement.dataset.light = this.light;
    },
    turnLight() {
      this.light = { auto: "day", day: "evening", evening: "auto" }[this.light];
      localStorage.setItem(LIGHT, this.light);
      this.shine();
    },
  },
  template: `
  <div class="table" v-if="ready">
    <a class="skip" href="#screen">{{ t("frame.skip") }}</a>
    <header class="head">
      <a class="home" href="/" :aria-label="t('frame.home')"><span aria-hidden="true" class="mark"></span><span class="home-word">{{ t("frame.shelf") }}</span></a>
      <h1 class="title">{{ title }}</h1>
      <nav v-if="store" class="steps" :aria-label="t('frame.steps')">
        <a v-for="s in screens" :key="s" :href="link(s)" :aria-current="at === s ? 'page' : null" @click="go(s, $event)">{{ t("frame." + s) }}</a>
      </nav>
      <div class="tools">
        <template v-if="store">
          <button class="plain" @click="store.undoOne()" :disabled="!store.undo" :title="store.undo ? t('frame.undo.what', { what: store.undo }) : null">{{ t("frame.undo") }}</button>
          <button class="plain" @click="store.redoOne()" :disabled="!store.redo">{{ t("frame.redo") }}</button>
        </template>
        <button class="plain" @click="turnLight">{{ t("frame.light." + light) }}</button>
        <select v-model="language" :aria-label="t('frame.language')"><option v-for="l in languages" :key="l.code" :value="l.code">{{ l.name }}</option></select>
      </div>
    </header>
    <p v-if="said" class="trouble" role="alert"><strong>{{ said.message }}</strong> {{ said.cure }}</p>
    <div class="middle" :class="{ alone: !store }">
      <main id="screen" tabindex="-1"><component :is="part" :store="store" /></main>
      <Findings v-if="store" :store="store" :at="at" />
    </div>
    <Totals v-if="store" :store="store" />
  </div>`,
};
