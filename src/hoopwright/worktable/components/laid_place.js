// Where a thing lies on the panel, in numbers: across and up from the middle of the panel, and how far it is turned.
import { level, middleOf } from "/parts/laid.js";
import { decimal, length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const FAR = 1000; // mm

export const LaidPlace = {
  props: { store: Object, panel: Object, row: Object },
  emits: ["put", "middle"],
  data: () => ({ wrong: null }),
  computed: {
    units() {
      return this.store.project.units;
    },
    middle() {
      return middleOf(this.panel.frame);
    },
    across() {
      return length(this.row.model.at[0] - this.middle[0], this.units);
    },
    up() {
      return length(this.row.model.at[1] - this.middle[1], this.units);
    },
    turned() {
      return decimal(this.row.model.turn);
    },
  },
  methods: {
    t,
    putPlace(axis, event) {
      const mm = readLength(event.target.value, this.units);
      this.wrong = mm === null || Math.abs(mm) > FAR ? "place" : null;
      if (this.wrong) return;
      const at = this.row.model.at.slice();
      at[axis] = Math.round((mm + this.middle[axis]) * 100) / 100;
      this.$emit("put", "moved", { at });
    },
    putTurn(event) {
      const degrees = Number(event.target.value.trim().replace(",", ".") || "0");
      this.wrong = Math.abs(degrees) <= 360 ? null : "turn";
      if (!this.wrong) this.$emit("put", "turned", { turn: level(degrees) });
    },
    putMiddle(event) {
      this.$emit("middle", event.target.value);
      event.target.value = "";
    },
  },
  template: `
  <fieldset class="laid-place">
    <legend>{{ t("laid.place") }}</legend>
    <div class="row">
      <label>{{ t("laid.across") }}<input :value="across" size="8" :aria-invalid="wrong === 'place' ? 'true' : null" @change="putPlace(0, $event)"></label>
      <label>{{ t("laid.up") }}<input :value="up" size="8" :aria-invalid="wrong === 'place' ? 'true' : null" @change="putPlace(1, $event)"></label>
      <label>{{ t("laid.turn") }}<input :value="turned" size="5" inputmode="decimal" :aria-invalid="wrong === 'turn' ? 'true' : null" @change="putTurn"></label>
      <label>{{ t("laid.middle") }}<select @change="putMiddle"><option value="" selected>{{ t("laid.middle.choose") }}</option><option value="*">{{ t("laid.middle.panel") }}</option><option v-for="p in panel.patches" :key="p.letter" :value="p.letter">{{ t("cloth.piece", { letter: p.letter }) }}</option></select></label>
    </div>
    <p v-if="wrong" role="alert" class="wrong">{{ t("laid.wrong." + wrong) }}</p>
  </fieldset>`,
};
