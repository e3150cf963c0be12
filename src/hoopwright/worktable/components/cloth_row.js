// The rest of what may be said of a row of seam stitches, folded away: repeats, gaps, ends, sides changed over. A second row also has
// its width, weight and sides here.
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const WEIGHTS = ["fine", "bold", "corded"];
/** Lengths in mm: least, most, and whether it may be left to the tool. */
const LENGTHS = { width: [1, 20, true], repeat: [2, 60, true], spacing: [0, 40, false], ease: [0, 60, false], taper: [0, 60, false] };

export const ClothRow = {
  props: { model: Object, units: String, name: String, table: Object },
  emits: ["put"],
  data: () => ({ wrong: null }),
  computed: {
    keys() {
      return this.name === "over" ? ["width", "repeat", "spacing"] : ["repeat", "spacing", "ease", "taper"];
    },
    weights: () => WEIGHTS,
    /** Whether something here is not as usual, so that it is not overlooked. */
    own() {
      const { repeat, spacing, ease, taper, mirror, turn } = this.model;
      return !!(repeat || spacing || ease || taper || mirror || turn || (this.name === "over" && (this.model.width || this.model.sides || this.model.weight !== "bold")));
    },
  },
  watch: {
    model() {
      this.wrong = null;
    },
  },
  methods: {
    t,
    shown(key) {
      const mm = this.model[key];
      return mm === null || mm === undefined ? "" : length(mm, this.units);
    },
    placeholder: (key) => (LENGTHS[key][2] ? t("cloth.chosen") : ""),
    /** @param {string} key */
    limits(key) {
      const [low, high, free] = LENGTHS[key];
      return t(free ? "cloth.row.limits.free" : "cloth.row.limits", { low: length(low, this.units), high: length(high, this.units) });
    },
    putLength(key, event) {
      const [low, high, free] = LENGTHS[key];
      const text = event.target.value.trim();
      const mm = text ? readLength(text, this.units) : free ? null : 0;
      this.wrong = (text && mm === null) || (mm !== null && (mm < low || mm > high)) ? key : null;
      if (!this.wrong) this.$emit("put", { [key]: mm === null ? null : Math.round(mm * 100) / 100 });
    },
  },
  template: `
  <details class="cloth-more">
    <summary>{{ t(own ? "cloth.row.more.own" : "cloth.row.more") }}</summary>
    <div class="stack">
      <div class="row">
        <label v-for="k in keys" :key="k">{{ t(k === "width" ? "cloth.width" : "cloth.row." + k) }}<input :value="shown(k)" :placeholder="placeholder(k)" size="9" :aria-invalid="wrong === k ? 'true' : null" @change="putLength(k, $event)"></label>
        <template v-if="name === 'over'">
          <label>{{ t("cloth.weight") }}<select :value="model.weight" @change="$emit('put', { weight: $event.target.value })"><option v-for="w in weights" :key="w" :value="w">{{ t("cloth.weight." + w) }}</option></select></label>
          <label v-if="table && table.sides.length">{{ t("cloth.sides") }}<select :value="model.sides ?? ''" @change="$emit('put', { sides: $event.target.value || null })"><option value="">{{ t("cloth.sides.own") }}</option><option v-for="s in table.sides" :key="s" :value="s">{{ t("cloth.sides." + s) }}</option></select></label>
        </template>
      </div>
      <p v-if="wrong" role="alert" class="wrong">{{ limits(wrong) }}</p>
      <div class="row">
        <label class="beside"><input type="checkbox" :checked="model.mirror" @change="$emit('put', { mirror: $event.target.checked })">{{ t("cloth.mirror") }}</label>
        <label class="beside"><input type="checkbox" :checked="model.turn" @change="$emit('put', { turn: $event.target.checked })">{{ t("cloth.turn") }}</label>
      </div>
      <p class="quiet small">{{ t(name === "over" ? "cloth.row.about.over" : "cloth.row.about") }}</p>
    </div>
  </details>`,
};
