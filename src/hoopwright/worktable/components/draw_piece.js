// The chosen piece: what it is, and what can be done with it.
import { across } from "/parts/geometry.js";
import { length } from "/parts/measures.js";
import { t } from "/parts/texts.js";

export const DrawPiece = {
  props: { store: Object, panel: Object, patch: String, kept: Array, byHand: Boolean },
  emits: ["add", "keep", "save"],
  computed: {
    piece() {
      return this.panel.patches.find((p) => p.letter === this.patch) ?? null;
    },
    first() {
      return this.store.project.panel.first;
    },
    size() {
      const xs = this.piece.area.map((p) => p[0]);
      const ys = this.piece.area.map((p) => p[1]);
      const units = this.store.project.units;
      return `${length(Math.max(...xs) - Math.min(...xs), units)} × ${length(Math.max(...ys) - Math.min(...ys), units)}`;
    },
    said() {
      const { letter, number } = this.piece;
      return number ? t("draw.piece.numbered", { letter, number }) : t("draw.piece.title", { letter });
    },
  },
  methods: {
    t,
    cut(degrees) {
      const [x, y] = this.piece.at;
      const angle = (degrees * Math.PI) / 180;
      const line = across(this.piece.area, [[x, y], [x + Math.cos(angle), y + Math.sin(angle)]], [x, y]);
      if (line) this.$emit("add", line);
    },
    sewFirst() {
      const { letter } = this.piece;
      this.$emit("save", t("did.first", { letter }), { first: this.first === letter ? null : letter, order: null });
    },
  },
  template: `
  <section v-if="piece" class="sheet stack" :aria-label="said">
    <h2><span class="chip" :style="{ background: piece.colour }" aria-hidden="true"></span>{{ said }}</h2>
    <p class="quiet">{{ size }}</p>
    <div class="row tight">
      <button class="plain" :aria-pressed="first === patch" @click="sewFirst">{{ t("draw.piece.first") }}</button>
      <button class="plain" :aria-pressed="kept.includes(patch)" @click="$emit('keep', patch)">{{ t("draw.piece.keep") }}</button>
      <template v-if="byHand">
        <button class="plain" @click="cut(0)">{{ t("draw.cut.level") }}</button>
        <button class="plain" @click="cut(90)">{{ t("draw.cut.upright") }}</button>
      </template>
    </div>
  </section>
  <p v-else class="sheet quiet">{{ t("draw.piece.none") }}</p>`,
};
