// All versions of the project, the newest first: what was done and when; any of them can be opened, and given a name.
import { did, when } from "/parts/moments_said.js";
import { Sheet } from "/parts/sheet.js";
import { t } from "/parts/texts.js";

const SHOWN = 100;

/** The versions that the one that holds came from, and itself. @param {{ number: number, parent: number | null }[]} rows @param {number} now */
export function lineOf(rows, now) {
  const parents = new Map(rows.map((row) => [row.number, row.parent]));
  const line = new Set();
  for (let at = now; at !== null && at !== undefined && !line.has(at); at = parents.get(at)) line.add(at);
  return line;
}

export const Versions = {
  components: { Sheet },
  props: { store: Object },
  emits: ["close"],
  data: () => ({ rows: null, lost: null, naming: null, word: "", most: SHOWN }),
  computed: {
    line() {
      return lineOf(this.rows ?? [], this.store.version);
    },
    shown() {
      return (this.rows ?? []).slice(0, this.most);
    },
  },
  watch: {
    "store.version": "load",
  },
  mounted() {
    this.load();
  },
  methods: {
    t,
    did,
    when,
    async load() {
      try {
        this.rows = (await this.store.versions()).reverse();
        this.lost = null;
      } catch (error) {
        this.lost = error;
      }
    },
    async go(row) {
      if (await this.store.goTo(row.number)) await this.load();
    },
    name(row) {
      this.naming = row.number;
      this.word = row.name ?? "";
      this.$nextTick(() => document.getElementById("version-name")?.select());
    },
    async named(row) {
      try {
        await this.store.nameVersion(row.number, this.word.trim() || null);
        this.naming = null;
        await this.load();
      } catch (error) {
        this.lost = error;
      }
    },
  },
  template: `
  <Sheet :heading="t('versions.title')" side @close="$emit('close')">
    <p class="quiet">{{ t("versions.hint") }}</p>
    <p v-if="lost" role="alert" class="said-wrong">{{ lost.status ? lost.message : t("trouble.offline") }}</p>
    <ol v-if="rows" class="versions">
      <li v-for="row in shown" :key="row.number" class="version" :class="{ now: row.number === store.version, aside: !line.has(row.number) }" :aria-current="row.number === store.version ? 'true' : null">
        <div class="version-said">
          <strong v-if="row.name" class="version-name">{{ row.name }}</strong>
          <span>{{ did(row.what) }}</span>
          <span class="quiet">{{ when(row.when) }}<template v-if="row.number === store.version"> · {{ t("versions.now") }}</template><template v-else-if="!line.has(row.number)"> · {{ t("versions.aside") }}</template></span>
        </div>
        <form v-if="naming === row.number" class="row" @submit.prevent="named(row)">
          <label class="version-word">{{ t("versions.name") }}<input id="version-name" v-model="word" maxlength="60" autocomplete="off" @keydown.esc.stop.prevent="naming = null"></label>
          <button type="submit">{{ t("versions.keep") }}</button>
        </form>
        <div v-else class="row">
          <button v-if="row.number !== store.version" class="plain" @click="go(row)">{{ t("versions.go") }}<span class="unseen">: {{ did(row.what) }}, {{ when(row.when) }}</span></button>
          <button class="plain" @click="name(row)">{{ t(row.name ? "versions.rename" : "versions.call") }}<span class="unseen">: {{ did(row.what) }}, {{ when(row.when) }}</span></button>
        </div>
      </li>
    </ol>
    <button v-if="rows && rows.length > most" class="plain" @click="most += 200">{{ t("versions.more") }}</button>
  </Sheet>`,
};
