// The shelf: projects with their pictures, new ones, copies, the archive.
import { ask } from "/parts/ask.js";
import { NewProject } from "/parts/shelf_new.js";
import { ShelfCard } from "/parts/shelf_card.js";
import { copyTitle, cutTo, matching, namesOf, titleOf } from "/parts/shelf_words.js";
import { t, texts, tn } from "/parts/texts.js";

/** So many projects can be overlooked without searching. */
const MANY = 8;
const AGAIN_MS = 4000;

export const Shelf = {
  components: { NewProject, ShelfCard },
  data: () => ({ shelf: null, lost: false, trouble: null, sought: "", chosen: null, said: "" }),
  computed: {
    open() {
      return this.shelf.projects.filter((p) => !p.archived);
    },
    resting() {
      return this.shelf.projects.filter((p) => p.archived);
    },
    many() {
      return this.shelf.projects.length > MANY;
    },
    found() {
      return matching(this.open, this.sought, texts.language);
    },
    foundResting() {
      return matching(this.resting, this.sought, texts.language);
    },
    /** The recipes, those for a beginner first on an empty shelf. */
    recipes() {
      const { recipes, easy } = this.shelf;
      if (this.open.length) return recipes;
      const first = easy.map((name) => recipes.find((r) => r.name === name)).filter(Boolean);
      return [...first, ...recipes.filter((r) => !easy.includes(r.name))];
    },
    first() {
      return this.open.length ? [] : this.recipes.slice(0, this.shelf.easy.length);
    },
    rest() {
      return this.recipes.slice(this.first.length);
    },
  },
  async mounted() {
    window.addEventListener("focus", this.load);
    this.$watch(() => texts.language, this.load);
    await this.load();
  },
  unmounted() {
    window.removeEventListener("focus", this.load);
    clearTimeout(this.timer);
  },
  methods: {
    t,
    tn,
    titleOf,
    namesOf,
    async load() {
      clearTimeout(this.timer);
      try {
        this.shelf = await ask("/api/shelf");
        this.lost = false;
        this.draw();
      } catch (error) {
        this.lost = error.status === 0;
        if (!this.lost) this.trouble = error;
        this.timer = setTimeout(this.load, AGAIN_MS);
      }
    },
    /** Have the pictures that are not there yet drawn, one after the other. */
    async draw() {
      if (this.drawing) return;
      this.drawing = true;
      const tried = new Set();
      for (;;) {
        const next = this.shelf.projects.find((p) => p.print === null && p.sound && !tried.has(p.name));
        if (!next) break;
        tried.add(next.name);
        try {
          const row = await ask(`/api/shelf/${encodeURIComponent(next.name)}/face`);
          this.shelf.projects = this.shelf.projects.map((p) => (p.name === row.name ? row : p));
        } catch (error) {
          if (error.status === 0) break;
        }
      }
      this.drawing = false;
    },
    /** Do something with a project, then look at the shelf again. */
    async act(work, said) {
      this.trouble = null;
      try {
        await work();
        this.said = said;
      } catch (error) {
        this.trouble = error;
      }
      await this.load();
    },
    at: (p, what, body) => ask(`/api/shelf/${encodeURIComponent(p.name)}/${what}`, body),
    copy(p) {
      const title = copyTitle(p.title);
      return this.act(() => this.at(p, "duplicate", { title }), t("shelf.copied", { title: p.title }));
    },
    rename(p, title) {
      return this.act(() => this.at(p, "rename", { title, what: cutTo(`${t("did.renamed")}: ${title}`) }), t("shelf.renamed", { title }));
    },
    rest_(p, rest) {
      return this.act(() => this.at(p, "archive", { rest }), t(rest ? "shelf.archived" : "shelf.back.done", { title: p.title }));
    },
  },
  template: `
  <div v-if="lost" class="trouble" role="alert"><p><strong>{{ t("trouble.offline") }}.</strong> {{ t("shelf.offline.cure") }}</p></div>
  <div v-if="trouble" class="trouble" role="alert"><p><strong>{{ trouble.message }}.</strong> {{ trouble.cure }}</p><button class="plain" @click="trouble = null">{{ t("frame.put") }}</button></div>
  <p class="unseen" role="status">{{ said }}</p>
  <div v-if="shelf" class="shelf">
    <section v-if="open.length" class="shelf-part" aria-labelledby="shelf-projects">
      <div class="shelf-head"><h2 id="shelf-projects">{{ t("shelf.projects") }}</h2>
        <label v-if="many" class="seek"><span class="unseen">{{ t("shelf.seek") }}</span><input v-model="sought" type="search" :placeholder="t('shelf.seek')" autocomplete="off"></label>
      </div>
      <p v-if="!found.length" class="quiet">{{ t("shelf.none", { sought }) }}</p>
      <ul class="cards"><ShelfCard v-for="p in found" :key="p.name" :project="p" @copy="copy(p)" @rename="rename(p, $event)" @rest="rest_(p, true)" /></ul>
    </section>
    <section v-else class="shelf-part welcome linen"><h2>{{ t("shelf.welcome") }}</h2><p>{{ t("shelf.welcome.hint") }}</p></section>

    <section v-if="first.length" class="shelf-part" aria-labelledby="shelf-first">
      <h2 id="shelf-first">{{ t("shelf.first") }}</h2>
      <ul class="cards"><li v-for="r in first" :key="r.name" class="card recipe">
        <button class="card-press" @click="chosen = r"><span class="card-picture"><img v-if="r.picture" class="drawn" :src="'/recipes/' + r.name + '.svg'" alt=""><span v-else class="no-picture" aria-hidden="true"></span></span><span class="card-title">{{ namesOf(r).title }}</span><span class="card-said">{{ namesOf(r).summary }}</span></button>
      </li></ul>
    </section>
    <section class="shelf-part" aria-labelledby="shelf-new">
      <h2 id="shelf-new">{{ t(first.length ? "shelf.more" : "shelf.new") }}</h2>
      <ul class="cards small"><li v-for="r in rest" :key="r.name" class="card recipe">
        <button class="card-press" @click="chosen = r"><span class="card-picture"><img v-if="r.picture" class="drawn" :src="'/recipes/' + r.name + '.svg'" alt="" loading="lazy"><span v-else class="no-picture" aria-hidden="true"></span></span><span class="card-title">{{ namesOf(r).title }}</span><span class="card-said">{{ namesOf(r).summary }}</span></button>
      </li></ul>
    </section>
    <details v-if="resting.length" class="shelf-part archive" :open="sought !== '' && foundResting.length > 0">
      <summary><h2>{{ t("shelf.archive") }}</h2> <span class="quiet">{{ tn("shelf.archive.count", resting.length) }}</span></summary>
      <ul class="cards"><ShelfCard v-for="p in foundResting" :key="p.name" :project="p" @copy="copy(p)" @rename="rename(p, $event)" @rest="rest_(p, false)" /></ul>
    </details>
    <p class="quiet shelf-folder">{{ t("shelf.folder", { folder: shelf.folder }) }}</p>
  </div>
  <NewProject v-if="chosen" :recipe="chosen" @close="chosen = null" />`,
};
