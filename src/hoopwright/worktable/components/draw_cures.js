// Cures for a drawing that cannot be sewn: each shows what it would do while the hand rests on it, and is taken by one press.
import { ask, of } from "/parts/ask.js";
import { distance, drawnOn, sides, without } from "/parts/geometry.js";
import { length } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const NEAR = 1; // mm: a loose end of a finding is one of our lines

export const DrawCures = {
  props: { store: Object, panel: Object, strokes: Array, way: String },
  emits: ["look", "leave", "take", "mend"],
  data: () => ({ rows: [], asked: -1, searching: false }),
  mounted() {
    this.find();
  },
  watch: {
    "store.version"() {
      this.find();
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
    /** Ends that meet nothing can be drawn on, or their line taken away. */
    loose() {
      if (this.way !== "lines") return [];
      const ends = (this.store.view?.findings ?? []).filter((f) => f.code === "HW261" && f.point);
      return ends.flatMap((f) => this.mendsOf(f.point)).slice(0, 4);
    },
  },
  methods: {
    t,
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
      const rest = letters.slice(2).filter(Boolean).join(", ");
      return t(`draw.cure.${kind}`, { a, b, c, d, e: letters[4] ?? "", rest, all: letters.join(", "), by: length(by, this.store.project.units) });
    },
  },
  template: `
  <section v-if="rows.length || loose.length || (blocked && searching)" class="draw-cures" :aria-label="t('draw.cures')">
    <h2>{{ t(searching ? "draw.cures.search" : blocked || loose.length ? "draw.cures" : "draw.cures.one") }}</h2>
    <ul @pointerleave="$emit('leave')">
      <li v-for="row in loose" :key="row.key"><button class="plain" @pointerenter="$emit('look', row.strokes)" @focus="$emit('look', row.strokes)" @blur="$emit('leave')" @click="$emit('mend', row)">{{ row.text }}</button></li>
      <li v-for="(row, i) in rows" :key="i"><button class="plain" @pointerenter="$emit('look', row.lines)" @focus="$emit('look', row.lines)" @blur="$emit('leave')" @click="$emit('take', row.lines)">{{ words(row) }}</button></li>
    </ul>
  </section>`,
};
