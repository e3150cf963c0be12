// The worktable: head, the screen in the middle, what was found beside it, the totals below.
import { defineAsyncComponent, markRaw } from "vue";
import { openProject } from "/parts/store.js";
import { loadTexts, t, texts } from "/parts/texts.js";
import { Findings } from "/parts/findings.js";
import { keepClear } from "/parts/focus_clear.js";
import { FrameTitle } from "/parts/frame_title.js";
import { Habits } from "/parts/habits.js";
import { Help } from "/parts/help.js";
import { SharingMark } from "/parts/machine_share.js";
import { Notices } from "/parts/notices.js";
import { fetched, NotStarted } from "/parts/start.js";
import { Totals } from "/parts/totals.js";
import { Unreadable } from "/parts/unreadable.js";
import { did } from "/parts/moments_said.js";
import { Versions } from "/parts/versions.js";

const SCREENS = ["draw", "cloth", "sew", "take"];
const AGAIN_MS = 2000;
const TRIES = 15;
/** A screen is loaded when it is first shown; while the worktable does not answer, it is asked again. One that does not fit says so. */
const screen = (file, name) =>
  markRaw(
    defineAsyncComponent({
      loader: () => fetched(`/parts/${file}.js`, name),
      onError: (error, retry, fail, tries) => (error instanceof SyntaxError || tries > TRIES ? fail() : setTimeout(retry, AGAIN_MS)),
      errorComponent: NotStarted,
    }),
  );
const PARTS = {
  shelf: screen("shelf", "Shelf"),
  draw: screen("draw", "Draw"),
  cloth: screen("cloth", "Cloth"),
  sew: screen("sew", "Sew"),
  take: screen("take", "Take"),
};
/** Where text is written, or something lies over the page: there the keys mean what they mean to the browser. */
const WRITTEN = 'input:not([type="radio"], [type="checkbox"], [type="range"]), textarea, dialog[open]';
const LIGHT = "hoopwright.light";
const LIGHTS = ["auto", "day", "evening"];

/** The project and the screen that the address names. */
function place() {
  const [, first, name, at] = location.pathname.split("/");
  if (first !== "project") return { name: "", at: "shelf" };
  return { name: decodeURIComponent(name), at: SCREENS.includes(at) ? at : SCREENS[0] };
}

function remembered(key, allowed) {
  const value = localStorage.getItem(key);
  return allowed.includes(value) ? value : allowed[0];
}

export const Table = {
  components: { Findings, FrameTitle, Habits, Help, Notices, SharingMark, Totals, Unreadable, Versions },
  data() {
    return {
      ...place(),
      ready: false,
      failed: false,
      store: null,
      light: remembered(LIGHT, LIGHTS),
      lights: LIGHTS,
      screens: SCREENS,
      more: false, // the tools of a narrow window are open
      earlier: false,
      help: false,
      scrolled: {},
      kept: {},
      minded: false, // something to mend or to mind was found on this screen: its column stays, so that nothing jumps when it is gone
    };
  },
  async mounted() {
    this.shine();
    window.addEventListener("popstate", this.back);
    window.addEventListener("keydown", this.key);
    document.addEventListener("focusin", keepClear);
    await this.open();
  },
  unmounted() {
    window.removeEventListener("popstate", this.back);
    window.removeEventListener("keydown", this.key);
    document.removeEventListener("focusin", keepClear);
    this.store?.close();
  },
  computed: {
    part() {
      return PARTS[this.at] ?? PARTS.shelf;
    },
    title() {
      return this.store?.project?.title ?? "";
    },
    /** Nothing to mend or to mind is found in the work as it is saved: what a drag finds meanwhile moves nothing under the hand. */
    well() {
      return Boolean(this.store?.view) && !this.store.problems.length && !this.store.view.findings?.some((row) => row.severity !== "notes");
    },
    /** What was found needs no column of its own. */
    clear() {
      return this.well && !this.minded;
    },
    undoing() {
      return this.store.undo ? t("frame.undo.what", { what: did(this.store.undo) }) : t("frame.undo.none");
    },
    redoing() {
      return this.store.redo ? t("frame.redo.what", { what: did(this.store.redo) }) : t("frame.redo.none");
    },
    /** The title of the window: what is open, and where in it. */
    heading() {
      if (!this.ready) return "Hoopwright";
      if (!this.store) return `${t("frame.shelf")} · Hoopwright`;
      return [this.title, t(`frame.${this.at}`), "Hoopwright"].filter(Boolean).join(" · ");
    },
    language: {
      get: () => texts.language,
      /** Words and sentences change together: what was found is asked for anew. */
      async set(language) {
        await loadTexts(language);
        await this.store?.load();
      },
    },
    languages: () => texts.languages,
  },
  watch: {
    heading(now) {
      document.title = now;
    },
    well(now) {
      if (this.store?.view && !now) this.minded = true;
    },
  },
  methods: {
    t,
    /** Get the words, then the project; without an answer it is tried again. */
    async open() {
      try {
        await loadTexts();
      } catch {
        this.failed = true;
        setTimeout(() => this.open(), 2000);
        return;
      }
      this.failed = false;
      if (this.name) {
        this.store = openProject(this.name);
        await this.store.load();
      }
      this.ready = true;
    },
    go(to, event) {
      if (event.metaKey || event.ctrlKey || event.shiftKey) return;
      event.preventDefault();
      history.pushState({}, "", this.link(to));
      this.show(to);
      this.$nextTick(() => document.getElementById("screen")?.focus({ preventScroll: true }));
    },
    /** What a screen keeps while another is looked at: the data it names in 'keeps'. */
    leave() {
      const part = this.$refs.part;
      const names = part?.$options?.keeps ?? [];
      if (names.length) this.kept[this.at] = Object.fromEntries(names.map((name) => [name, part[name]]));
    },
    again() {
      const part = this.$refs.part;
      for (const [name, value] of Object.entries(this.kept[this.at] ?? {})) part[name] = value;
      requestAnimationFrame(() => window.scrollTo(0, this.scrolled[this.at] ?? 0));
    },
    /** Show a screen where it was left. */
    show(to) {
      this.leave();
      this.scrolled[this.at] = window.scrollY;
      this.at = to;
      this.more = false;
      this.minded = Boolean(this.store?.view) && !this.well;
    },
    back() {
      const to = place();
      if (to.name !== this.name) location.reload();
      else if (to.at !== this.at) this.show(to.at);
    },
    key(event) {
      const held = event.ctrlKey || event.metaKey;
      const typing = event.target instanceof HTMLElement && event.target.closest(held ? WRITTEN : `${WRITTEN}, select`);
      if (event.key === "Escape") this.more = false;
      if (typing || event.defaultPrevented) return;
      const letter = event.key.toLowerCase();
      if (event.key === "?" && !held) this.act(event, () => (this.help = true));
      if (!this.store) return;
      if (held && letter === "z" && !event.shiftKey && this.store.undo) this.act(event, this.store.undoOne);
      if (held && (letter === "y" || (letter === "z" && event.shiftKey)) && this.store.redo) this.act(event, this.store.redoOne);
      const nth = event.altKey && !held ? SCREENS[Number(event.code.replace("Digit", "")) - 1] : undefined;
      if (nth) this.act(event, () => this.go(nth, event));
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
      localStorage.setItem(LIGHT, this.light);
      this.shine();
    },
  },
  template: `
  <p v-if="failed" class="table-lost" role="alert">Hoopwright: the worktable does not answer yet. <span lang="de">Der Arbeitstisch antwortet noch nicht.</span></p>
  <div class="table" v-if="ready" :class="{ bare: !store }">
    <a class="skip" href="#screen" @click.prevent="$refs.screen.focus()">{{ t("frame.skip") }}</a>
    <header class="head">
      <a class="home" href="/" :aria-label="t('frame.home')" :aria-current="store ? null : 'page'"><span aria-hidden="true" class="mark"></span><span class="home-word">{{ t("frame.shelf") }}</span></a>
      <FrameTitle v-if="store" :store="store" />
      <span v-else class="head-room"></span>
      <nav v-if="store" class="steps" :aria-label="t('frame.steps')">
        <a v-for="(s, i) in screens" :key="s" :href="link(s)" :aria-current="at === s ? 'page' : null" :aria-keyshortcuts="'Alt+' + (i + 1)" @click="go(s, $event)">{{ t("frame." + s) }}</a>
        <a :href="'/machine/' + encodeURIComponent(store.name)">{{ t("frame.machine") }}</a>
      </nav>
      <SharingMark />
      <div v-if="store" class="back-and-on">
        <button class="plain" @click="store.undoOne()" :disabled="!store.undo" aria-keyshortcuts="Control+Z" :aria-label="undoing" :title="undoing"><svg aria-hidden="true" viewBox="0 0 20 20"><path d="M3 8h9a5 5 0 0 1 0 10H8M7 4 3 8l4 4"/></svg><span class="word">{{ t("frame.undo") }}</span></button>
        <button class="plain" @click="store.redoOne()" :disabled="!store.redo" aria-keyshortcuts="Control+Y" :aria-label="redoing" :title="redoing"><svg aria-hidden="true" viewBox="0 0 20 20"><path d="M17 8H8a5 5 0 0 0 0 10h4M13 4l4 4-4 4"/></svg><span class="word">{{ t("frame.redo") }}</span></button>
      </div>
      <button class="plain more-button" :aria-expanded="more" aria-controls="tools" @click="more = !more">{{ t("frame.more") }}</button>
      <div id="tools" class="tools" :class="{ open: more }">
        <template v-if="store">
          <button class="plain" aria-haspopup="dialog" @click="earlier = true; more = false">{{ t("versions.open") }}</button>
        </template>
        <select v-model="light" :aria-label="t('frame.light')" @change="turnLight"><option v-for="l in lights" :key="l" :value="l">{{ t("frame.light." + l) }}</option></select>
        <select v-model="language" :aria-label="t('frame.language')"><option v-for="l in languages" :key="l.code" :value="l.code" :lang="l.code">{{ l.name }}</option></select>
        <button class="plain help-button" aria-haspopup="dialog" aria-keyshortcuts="?" :aria-label="t('help.title')" :title="t('help.title')" @click="help = true; more = false"><span aria-hidden="true" class="help-sign">?</span><span class="what">{{ t("help.title") }}</span></button>
      </div>
    </header>
    <Notices v-if="store" :store="store" />
    <div class="middle" :class="{ alone: !store || !store.readable || !store.project, clear }">
      <main id="screen" ref="screen" tabindex="-1">
        <h1 v-if="!store" class="unseen">{{ t("frame.shelf") }}</h1>
        <component v-if="!store" :is="part" />
        <template v-else-if="store.gone && !store.project"></template>
        <Unreadable v-else-if="!store.readable" :store="store" @earlier="earlier = true" />
        <component v-else-if="store.project" :is="part" ref="part" :store="store" @vue:mounted="again" />
      </main>
      <Findings v-if="store && store.project && store.readable" :store="store" :at="at" />
    </div>
    <Totals v-if="store && store.project && store.readable" :store="store" />
    <Versions v-if="earlier" :store="store" @close="earlier = false" />
    <Habits v-if="store && store.project && store.sheet" :store="store" :place="store.sheet.place" @close="store.sheet = null" />
    <Help v-if="help" :at="at" @close="help = false" />
  </div>`,
};
