// The outline in numbers.
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const SIDES = { rectangle: ["width", "height", "radius"], flap: ["width", "height", "radius"], tongue: ["width", "height", "tip", "radius"], ellipse: ["width", "height"] };

export const OutlineForm = {
  props: { store: Object, panel: Object },
  emits: ["outline"],
  data: () => ({ wrong: null }),
  computed: {
    outline() {
      return this.store.project.panel.outline;
    },
    keys() {
      return SIDES[this.outline.shape] ?? [];
    },
    shapes: () => Object.keys(SIDES),
    units() {
      return this.store.project.units;
    },
  },
  methods: {
    t,
    shown(key) {
      return length(this.outline[key] ?? 0, this.units);
    },
    put(key, event) {
      const value = readLength(event.target.value, this.units);
      this.wrong = value === null || value < 0 ? key : null;
      if (!this.wrong && event.target.value !== this.shown(key)) this.$emit("outline", { ...this.plain(), [key]: Math.round(value * 100) / 100 });
    },
    plain() {
      return Object.fromEntries(Object.entries(this.outline).filter(([key, value]) => value !== null && !(key === "radius" && value === 0)));
    },
    reshape(event) {
      const shape = event.target.value;
      const { width = 100, height = 80 } = this.outline;
      const least = Math.min(width, height);
      const more = { flap: { radius: Math.round(least * 0.35) }, rectangle: {}, ellipse: {}, tongue: { tip: Math.round(height * 0.25) } }[shape];
      this.$emit("outline", { shape, width, height, ...more });
    },
  },
  template: `
  <details class="sheet">
    <summary><h2>{{ t("draw.outline") }}</h2></summary>
    <form v-if="keys.length" class="stack" @submit.prevent :aria-label="t('draw.outline')">
      <label>{{ t("draw.outline.shape") }}<select :value="outline.shape" @change="reshape"><option v-for="s in shapes" :key="s" :value="s">{{ t("draw.shape." + s) }}</option></select></label>
      <div class="numbers">
        <label v-for="key in keys" :key="key">{{ t("draw.outline." + key) }}<input :value="shown(key)" :aria-invalid="wrong === key ? 'true' : null" size="7" @change="put(key, $event)"></label>
      </div>
      <p v-if="wrong" role="alert">{{ t("draw.number.wrong") }}</p>
    </form>
    <p v-else class="quiet">{{ t(outline.shape === "item" ? "draw.outline.item" : "draw.outline.drawn") }}</p>
  </details>`,
};
