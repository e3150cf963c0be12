// Cures for a drawing that cannot be sewn: each shows what it would do while the hand rests on it, and is taken by one press.
import { ask, of } from "/parts/ask.js";
import { distance, drawnOn, sides, without } from "/parts/geometry.js";
import { length } from "/parts/measures.js";
import { led, meant } from "/parts/pointing.js";
import { t, texts } from "/parts/texts.js";

const NEAR = 1; // mm: a loose end of a finding is one of our lines

export const DrawCures = {
  props: { store: Object, panel: Object, strokes: Array, way: String },
  emits: ["look", "leave", "take", "mend"],
  data: () => ({ rows: [], asked: -1, searching: false }),
  created() {
    Object.assign(this, { aimed: null, by: "mouse", since: 0 });
  },
  mounted() {
    this.find();
  },
  watch: {
    "store.version"() {
      this.find();
    },
    offers() {
      this.aimed = null;
      this.since = performance.now();
    },
  },
  computed: {
    saved() {
      return this.store.view?.panels?.[0] ?? null;
    },
    wanted() {
      const order = this.saved?.order;
      return Boolean(order) && (order.sewable ? order.sections.length > 1 : order.drawn);
    },
    blocked() {
      return this.wanted && !this.saved.order.sewable;
    },
    /** All that is offered, the loose ends first. */
    offers() {
      return [...this.loose, ...this.rows.map((row, i) => ({ key: `cure${i}`, text: this.words(row), what: null, strokes: row.lines }))];
    },
    /** Ends that meet nothing can be drawn on, or their line taken away. */
    loose() {
      if (this.way !== "lines") return [];
      const ends = (this.store.view?.findings ?? []).filter((f) => f.code === "HW261" && f.point);
      return ends.flatMap((f) => this.mendsOf(f.point)).slice(0, 4);
    },
  },
  methods: {
    t,
    /** A row is shown when the hand is led to it, not when the list comes to lie under the hand. */
    over(event, row) {
      if (!led(event) || this.aimed === row.key) return;
      this.aimed = row.key;
      this.$emit("look", row.strokes);
    },
    out() {
      this.aimed = null;
      this.$emit("leave");
    },
    press(event, row) {
      const stood = performance.now() - this.since;
      if (meant({ key: row.key, aimed: this.aimed, by: this.by, keys: event.detail === 0, stood })) return row.what ? this.$emit("mend", row) : this.$emit("take", row.strokes);
      this.aimed = row.key;
      return this.$emit("look", row.strokes);
    },
    async find() {
      this.rows = [];
      if (!this.wanted || this.loose.length) return;
      const asked = this.store.version;
      this.searching = true;
      try {
        const rows = await ask(`${of(this.store.name)}/draw/cures`, {});
        if (asked === this.store.version) this.rows = rows;
      } catch {
        this.rows = [];
      } finally {
        this.searching = false;
      }
    },
    mendsOf(point) {
      const rim = sides(this.panel.outline);
      for (let i = 0; i < this.strokes.length; i++) {
        const end = [0, 1].find((k) => distance(this.strokes[i][k], point) < NEAR);
        if (end === undefined) continue;
        const others = this.strokes.filter((_, k) => k !== i);
        const met = drawnOn(this.strokes[i], end, [...rim, ...others]);
        const away = { key: `away${i}`, text: t("draw.mend.away", { n: i + 1 }), what: t("did.removed", { n: i + 1 }), strokes: without(this.strokes, i, rim, false) };
        if (!met) return [away];
        const stroke = end === 0 ? [met, this.strokes[i][1]] : [this.strokes[i][0], met];
        const on = { key: `on${i}`, text: t("draw.mend.on", { n: i + 1 }), what: t("did.cured"), strokes: this.strokes.map((s, k) => (k === i ? stroke : s)) };
        return [on, away];
      }
      return [];
    },
    words(row) {
      return row.changes.map((c) => this.sentence(c)).join(" ");
    },
    sentence({ kind, letters, by }) {
      const [a, b, c = "", d = ""] = letters;
      const listed = (some) => new Intl.ListFormat(texts.language).format([...new Set(some)].filter(Boolean));
      const key = kind === "straighten" && a === c && b === d ? "straight" : kind;
      return t(`draw.cure.${key}`, { a, b, c, d, e: letters[4] ?? "", rest: listed(letters.slice(2)), all: listed(letters), by: length(by, this.store.project.units) });
    },
  },
  template: `
  <section v-if="offers.length || (blocked && searching)" class="draw-cures" :aria-label="t('draw.cures')">
    <h2>{{ t(searching ? "draw.cures.search" : blocked || loose.length ? "draw.cures" : "draw.cures.one") }}</h2>
    <ul @pointerleave="out">
      <li v-for="row in offers" :key="row.key"><button class="plain" @pointermove="over($event, row)" @pointerdown="by = $event.pointerType" @focus="$emit('look', row.strokes)" @blur="$emit('leave')" @click="press($event, row)">{{ row.text }}</button></li>
    </ul>
  </section>`,
};
