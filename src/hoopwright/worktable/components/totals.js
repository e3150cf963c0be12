// The figures that stay in view, also while a hand drags: size, time, stitches, halts, thread, cloth. The rest opens above them.
import { length, sides } from "/parts/measures.js";
import { openHabits } from "/parts/take_places.js";
import { hours, threadLength } from "/parts/take_rows.js";
import { t, texts, tn } from "/parts/texts.js";

export const Totals = {
  props: { store: Object },
  data: () => ({ open: false }),
  mounted() {
    this.tabbed = false; // the last key in them was Tab
    window.addEventListener("keydown", this.key, true);
  },
  unmounted() {
    window.removeEventListener("keydown", this.key, true);
  },
  computed: {
    totals() {
      return (this.store.tried ?? this.store.view)?.totals ?? null;
    },
    units() {
      return this.store.project?.units ?? "mm";
    },
    metres() {
      return this.totals.threads.reduce((sum, [, metres]) => sum + metres, 0);
    },
    /** The figures of the strip; those that a narrow strip leaves to what opens are marked. */
    rows() {
      const all = this.totals;
      if (!all) return [];
      const sizes = [...new Set(all.sizes.map((sides) => this.sides(sides)))];
      const rows = [
        { key: "size", value: sizes.join(", ") || "–" },
        { key: "machine", value: this.time(all.machine) },
        { key: "hands", value: this.time(all.hands) },
        { key: "halts", value: this.number(all.halts), lesser: true },
        { key: "stitches", value: this.number(all.stitches), lesser: true },
        { key: "hoopings", value: this.number(all.hoopings), lesser: true, least: true },
        { key: "thread", value: t("totals.metres", { metres: this.number(this.metres, 1) }), lesser: true },
      ];
      return all.hoopings ? rows : rows.map((row) => (row.key === "size" ? row : { ...row, value: "–" }));
    },
    threads() {
      const known = this.store.project?.threads ?? {};
      return this.totals.threads.map(([key, metres]) => ({
        key,
        name: key === "bobbin" ? t("totals.bobbin") : known[key]?.name ?? key,
        colour: known[key]?.colour ?? null,
        metres: threadLength(metres, this.units, texts.language),
      }));
    },
    cloths() {
      const known = this.store.project?.cloths ?? {};
      return this.totals.cloths.map(([key, pieces, width, long]) => ({
        key,
        name: known[key]?.name ?? key,
        colour: known[key]?.colour ?? null,
        pieces: tn("totals.pieces", pieces),
        need: this.need(known[key]?.kind, width, long),
      }));
    },
    saved() {
      if (this.store.saving) return "totals.saving";
      if (this.store.gone && !this.store.waiting) return null;
      return this.store.waiting ? "totals.waiting" : "totals.saved";
    },
  },
  methods: {
    t,
    number(value, places = 0) {
      return value.toLocaleString(texts.language, { minimumFractionDigits: places, maximumFractionDigits: places });
    },
    /** Both sides, their unit once. */
    sides([width, height]) {
      return sides([width, height], this.units);
    },
    /** Opened with keys, what opens has the focus: it is read on with the arrows. @param {MouseEvent} event */
    toggle(event) {
      this.open = !this.open;
      if (this.open && event.detail === 0) this.$nextTick(() => this.$refs.full?.focus());
    },
    /** Escape puts them away, wherever the focus is; what lies over the page goes before what the screen does with the key. @param {KeyboardEvent} event */
    key(event) {
      if (event.key !== "Escape" || !this.open || document.querySelector("dialog[open]")) return;
      event.preventDefault();
      event.stopPropagation();
      if (this.$el.contains(document.activeElement)) this.$refs.more?.focus();
      this.open = false;
    },
    /** Keys that go on beyond them would come to what they lie over. @param {FocusEvent} event */
    left(event) {
      const to = /** @type {Element | null} */ (event.relatedTarget);
      if (this.tabbed && to && !this.$el.contains(to)) this.open = false;
      this.tabbed = false;
    },
    /** Times rest on the machine's speed, cloth on how it is cut: the settings of both are a press away. */
    habits() {
      this.open = false;
      openHabits(this.store);
    },
    time(minutes) {
      const [h, min] = hours(minutes);
      return h ? t("totals.hours", { h, min }) : t("totals.min", { min });
    },
    need(kind, width, long) {
      if (kind === "zip") return t("totals.need.zip", { long: length(long, this.units) });
      if (kind === "ribbon") return t("totals.need.ribbon", { width: length(width, this.units), long: length(long, this.units) });
      return this.sides([width, long]);
    },
  },
  template: `
  <footer class="totals" :aria-label="t('totals.title')" @keydown="tabbed = $event.key === 'Tab'" @focusout="left">
    <div v-if="open && totals" ref="full" id="totals-full" class="totals-full" tabindex="0" role="group" :aria-label="t('totals.more')">
      <dl class="totals-lesser"><div v-for="row in rows.filter((r) => r.lesser)" :key="row.key" :class="[row.key, { least: row.least }]"><dt>{{ t("totals." + row.key) }}</dt><dd>{{ row.value }}</dd></div></dl>
      <section>
        <h3>{{ t("totals.threads") }}</h3>
        <ul class="needs"><li v-for="row in threads" :key="row.key"><span class="swatch" :style="{ background: row.colour }" :class="{ none: !row.colour }" aria-hidden="true"></span><span class="name">{{ row.name }}</span><span class="much">{{ row.metres }}</span></li></ul>
      </section>
      <section>
        <h3>{{ t("totals.cloths") }}</h3>
        <ul class="needs"><li v-for="row in cloths" :key="row.key"><span class="swatch" :style="{ background: row.colour }" :class="{ none: !row.colour }" aria-hidden="true"></span><span class="name">{{ row.name }}</span><span class="much">{{ row.need }} <span class="quiet">({{ row.pieces }})</span></span></li></ul>
        <p class="quiet">{{ t("totals.cloths.hint") }}</p>
      </section>
      <p class="totals-habits"><button class="plain" aria-haspopup="dialog" @click="habits">{{ t("set.title") }}</button></p>
    </div>
    <div class="totals-strip">
      <dl><div v-for="row in rows" :key="row.key" :class="[row.key, { lesser: row.lesser, least: row.least }]"><dt>{{ t("totals." + row.key) }}</dt><dd>{{ row.value }}</dd></div></dl>
      <button v-if="totals" ref="more" class="plain totals-more" :aria-expanded="open" aria-controls="totals-full" @click="toggle">{{ t("totals.more") }}<span class="turn" aria-hidden="true"></span></button>
      <p v-if="saved" class="saved" :class="{ waiting: saved === 'totals.waiting' }">{{ t(saved) }}</p>
    </div>
  </footer>`,
};
