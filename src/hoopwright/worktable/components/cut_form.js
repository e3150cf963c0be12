// The chosen cut in numbers.
import { angleOf, distance } from "/parts/geometry.js";
import { decimal, length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

export const CutForm = {
  props: { store: Object, strokes: Array, chosen: Number },
  emits: ["drop", "remove"],
  data: () => ({ wrong: null }),
  computed: {
    stroke() {
      return this.strokes[this.chosen];
    },
    units() {
      return this.store.project.units;
    },
    rows() {
      const [[ax, ay], [bx, by]] = this.stroke;
      return [
        ["ax", length(ax, this.units)],
        ["ay", length(ay, this.units)],
        ["bx", length(bx, this.units)],
        ["by", length(by, this.units)],
        ["long", length(distance(...this.stroke), this.units)],
        ["angle", `${decimal(angleOf(this.stroke))}°`],
      ];
    },
  },
  methods: {
    t,
    put(key, shown, event) {
      const text = event.target.value;
      if (text === shown) return;
      const value = key === "angle" ? Number(text.replace(",", ".").replace("°", "")) : readLength(text, this.units);
      this.wrong = value === null || Number.isNaN(value) || (key === "long" && value <= 0) ? key : null;
      if (!this.wrong) this.$emit("drop", this.chosen, this.with(key, value));
    },
    with(key, value) {
      const [[ax, ay], [bx, by]] = this.stroke;
      if (key === "ax") return [[value, ay], [bx, by]];
      if (key === "ay") return [[ax, value], [bx, by]];
      if (key === "bx") return [[ax, ay], [value, by]];
      if (key === "by") return [[ax, ay], [bx, value]];
      const angle = ((key === "angle" ? value : angleOf(this.stroke)) * Math.PI) / 180;
      const long = key === "long" ? value : distance(...this.stroke);
      return [[ax, ay], [ax + Math.cos(angle) * long, ay + Math.sin(angle) * long]];
    },
  },
  template: `
  <form class="sheet stack" @submit.prevent :aria-label="t('draw.numbers')">
    <h2>{{ t("draw.cut.title", { n: chosen + 1 }) }}</h2>
    <p class="quiet small">{{ t("draw.numbers.from") }}</p>
    <div class="numbers">
      <label v-for="[key, value] in rows" :key="key">{{ t("draw.number." + key) }}<input :value="value" :aria-invalid="wrong === key ? 'true' : null" size="7" @change="put(key, value, $event)"></label>
    </div>
    <p v-if="wrong" role="alert">{{ t("draw.number.wrong") }}</p>
    <button type="button" class="plain" @click="$emit('remove', chosen)">{{ t("draw.remove") }}</button>
  </form>`,
};
