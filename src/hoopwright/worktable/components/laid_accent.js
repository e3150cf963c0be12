// An accent on the panel: its motif from pictures, its size and form, its thread, and what it is sewn on.
import { ClothPicker } from "/parts/cloth_picker.js";
import { ClothSpools } from "/parts/cloth_spools.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const SEEDS = 60;

export const LaidAccent = {
  components: { ClothPicker, ClothSpools },
  props: { store: Object, panel: Object, row: Object, offer: Object },
  emits: ["put", "show"],
  data: () => ({ picking: false, wrong: false, drawn: {} }),
  computed: {
    model() {
      return this.row.model;
    },
    units() {
      return this.store.project.units;
    },
    table() {
      return this.offer?.motifs.find((m) => m.name === this.model.motif) ?? null;
    },
    thread() {
      return this.model.thread ?? Object.keys(this.store.project.threads)[0];
    },
    ink() {
      return this.store.project.threads[this.thread]?.colour ?? "#22262b";
    },
    /** The cloth of the piece below it. */
    cloth() {
      const at = this.row.drawn?.at ?? [0, 0];
      const far = (p) => Math.hypot(p.at[0] - at[0], p.at[1] - at[1]);
      return this.panel.patches.slice().sort((a, b) => far(a) - far(b))[0].colour;
    },
    size() {
      return length(this.model.size, this.units);
    },
    sizes() {
      const [least, most] = this.table.size.map((mm) => length(mm, this.units));
      return t("laid.accent.sizes", { least, most });
    },
    lobes() {
      const [low, , high] = this.table.lobes;
      return Array.from({ length: high - low + 1 }, (_, i) => low + i);
    },
    seeds: () => SEEDS,
  },
  methods: {
    t,
    swatch(name) {
      const { fullness, seed } = this.model;
      return `/api/swatches/motif/${name}.svg?thread=${this.ink.slice(1)}&cloth=${this.cloth.slice(1)}&fullness=${fullness}&seed=${seed}`;
    },
    /** Another motif has lobes and limits of its own. */
    values(name) {
      const [low, high] = this.offer.motifs.find((m) => m.name === name).size;
      return { motif: name, lobes: null, size: Math.min(high, Math.max(low, this.model.size)) };
    },
    takeMotif(name) {
      if (name !== this.model.motif) this.$emit("put", "motif", this.values(name));
      this.close();
    },
    close() {
      this.picking = false;
      this.$emit("show", null);
      this.$nextTick(() => this.$refs.motif?.focus());
    },
    putSize(event) {
      const mm = readLength(event.target.value, this.units);
      const [low, high] = this.table.size;
      this.wrong = mm === null || mm < low || mm > high;
      if (!this.wrong) this.$emit("put", "sized", { size: Math.round(mm * 100) / 100 });
    },
    slide(key, event) {
      this.drawn = { [key]: Number(event.target.value) };
      this.$emit("show", this.drawn);
    },
    slid(key, event) {
      this.drawn = {};
      this.$emit("put", "form", { [key]: Number(event.target.value) });
    },
  },
  template: `
  <template v-if="table">
    <button ref="motif" type="button" class="plain has" :aria-expanded="picking" @click="picking ? close() : (picking = true)"><img :src="swatch(model.motif)" alt="" width="80" height="80"><span class="has-words"><strong>{{ t("motif." + model.motif) }}</strong><span class="quiet">{{ t("laid.accent.choose") }}</span></span></button>
    <ClothPicker v-if="picking" :rows="offer.motifs" kind="motif" :image="swatch" :size="[96, 96]" :cloth="cloth" :now="model.motif" :label="t('laid.accent.choose')" @show="$emit('show', $event === null ? null : values($event))" @take="takeMotif" @leave="close" />
    <div class="row">
      <label>{{ t("laid.accent.size") }}<input :value="size" size="8" :aria-invalid="wrong ? 'true' : null" aria-describedby="laid-sizes" @change="putSize"></label>
      <label>{{ t("motif." + model.motif + ".lobes") }}<select :value="model.lobes ?? ''" @change="$emit('put', 'form', { lobes: $event.target.value ? Number($event.target.value) : null })"><option value="">{{ t("laid.accent.usual", { n: table.lobes[1] }) }}</option><option v-for="n in lobes" :key="n" :value="n">{{ n }}</option></select></label>
      <label>{{ t("laid.accent.base") }}<select :value="model.base" @change="$emit('put', 'base', { base: $event.target.value })"><option value="film">{{ t("laid.accent.film") }}</option><option value="net">{{ t("laid.accent.net") }}</option></select></label>
    </div>
    <p id="laid-sizes" class="quiet small">{{ sizes }}</p>
    <p v-if="wrong" role="alert" class="wrong">{{ t("laid.wrong.size") }}</p>
    <label class="slider">{{ t("laid.accent.fullness") }}<input type="range" min="0" max="1" step="0.05" :value="drawn.fullness ?? model.fullness" @input="slide('fullness', $event)" @change="slid('fullness', $event)"></label>
    <label class="slider">{{ (drawn.seed ?? model.seed) ? t("laid.accent.seed", { seed: drawn.seed ?? model.seed }) : t("laid.accent.even") }}<input type="range" min="0" :max="seeds" :value="drawn.seed ?? model.seed" @input="slide('seed', $event)" @change="slid('seed', $event)"></label>
    <ClothSpools :threads="store.project.threads" :now="thread" :label="t('cloth.thread')" @show="$emit('show', $event === undefined ? null : { thread: $event })" @take="$emit('put', 'thread', { thread: $event })" />
  </template>`,
};
