// The chosen cut in numbers, and cuts by number for those who prefer typing.
import { angleOf, distance } from "/parts/geometry.js";
import { across } from "/parts/geometry.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

export const CutForm = {
  props: { store: Object, strokes: Array, chosen: Number, panel: Object, patch: String },
  emits: ["drop", "remove", "add"],
  data: () => ({ wrong: null }),
  computed: {
    stroke() {
      return this.chosen === null || this.chosen === undefined ? null : this.strokes[this.chosen] ?? null;
    },
    units() {
      return this.store.project.units;
    },
    rows() {
      if (!this.stroke) return [];
      const [[ax, ay], [bx, by]] = this.stroke;
      return [
        ["ax", length(ax, this.units)],
        ["ay", length(ay, this.units)],
        ["bx", length(bx, this.units)],
        ["by", length(by, this.units)],
        ["long", length(distance(...this.stroke), this.units)],
        ["angle", `${Math.round(angleOf(this.stroke) * 10) / 10}`],
      ];
    },
  },
  methods: {
    t,
    put(key, event) {
      const text = event.target.value;
      const value = key === "angle" ? Number(text.replace(",", ".")) : readLength(text, this.units);
      this.wrong = value === null || Number.isNaN(value) ? key : null;
      if (this.wrong) return;
      this.$emit("drop", this.chosen, this.with(key, value));
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
    cutPatch(degrees) {
      const piece = this.panel.patches.find((p) => p.letter === this.patch) ?? this.panel.patches[0];
      const [x, y] = piece.at;
      const angle = (degrees * Math.PI) / 180;
      const cut = across(piece.area, [[x, y], [x + Math.cos(angle), y + Math.sin(angle)]], [x, y]);
      if (cut) this.$emit("add", cut);
    },
  },
  template: `
  <form class="sheet stack" @submit.prevent :aria-label="t('draw.numbers')">
    <h2>{{ stroke ? t("draw.cut.title", { n: chosen + 1 }) : t("draw.cut.none") }}</h2>
    <div v-if="stroke" class="row numbers">
      <label v-for="[key, value] in rows" :key="key">{{ t("draw.number." + key) }}<input :value="value" :aria-invalid="wrong === key ? 'true' : null" inputmode="decimal" size="8" @change="put(key, $event)"></label>
    </div>
    <p v-if="wrong" role="alert">{{ t("draw.number.wrong") }}</p>
    <div class="row">
      <button v-if="stroke" class="plain" @click="$emit('remove', chosen)">{{ t("draw.remove") }}</button>
      <button class="plain" @click="cutPatch(0)">{{ t("draw.cut.level", { letter: patch ?? "A" }) }}</button>
      <button class="plain" @click="cutPatch(90)">{{ t("draw.cut.upright", { letter: patch ?? "A" }) }}</button>
    </div>
  </form>`,
};
