// How large a photographed cloth is: its width typed, or two places on it and how far they lie apart.
import { photoAt } from "/parts/cloth_defs.js";
import { widthFrom } from "/parts/cloth_prints.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

export const ClothPhoto = {
  props: { store: Object, look: Object },
  emits: ["put"],
  data: () => ({ places: [], wrong: null }),
  watch: {
    "look.photo"() {
      this.places = [];
    },
  },
  computed: {
    units() {
      return this.store.project.units;
    },
    src() {
      return photoAt(this.store.name, this.look);
    },
    width() {
      return length(this.look.width, this.units);
    },
    hint() {
      return t(["cloth.photo.first", "cloth.photo.second", "cloth.photo.far"][this.places.length]);
    },
  },
  methods: {
    t,
    press(event) {
      const box = event.currentTarget.getBoundingClientRect();
      const place = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
      this.places = this.places.length >= 2 ? [place] : [...this.places, place];
      if (this.places.length === 2) this.$nextTick(() => this.$refs.far?.focus());
    },
    read(event, low, high) {
      const mm = readLength(event.target.value, this.units);
      this.wrong = mm === null || mm < low || mm > high ? "width" : null;
      return this.wrong ? null : mm;
    },
    putWidth(event) {
      const mm = this.read(event, 5, 2000);
      if (mm !== null) this.$emit("put", { ...this.look, width: Math.round(mm * 10) / 10 });
    },
    putFar(event) {
      const mm = this.read(event, 1, 2000);
      const width = mm === null ? null : widthFrom(this.places[0], this.places[1], this.look.pixels, mm);
      if (mm !== null) this.wrong = width === null || width < 5 || width > 2000 ? "width" : null;
      if (this.wrong || width === null) return;
      this.places = [];
      this.$emit("put", { ...this.look, width: Math.round(width * 10) / 10 });
    },
  },
  template: `
  <div class="stack">
    <div class="photo" @click="press"><img :src="src" alt="" draggable="false"><svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true"><line v-if="places.length === 2" :x1="places[0][0] * 100" :y1="places[0][1] * 100" :x2="places[1][0] * 100" :y2="places[1][1] * 100" vector-effect="non-scaling-stroke" /></svg><i v-for="(p, i) in places" :key="i" :style="{ left: p[0] * 100 + '%', top: p[1] * 100 + '%' }"></i></div>
    <p class="small" aria-live="polite">{{ hint }}</p>
    <div class="row">
      <label v-if="places.length === 2">{{ t("cloth.photo.apart") }}<input ref="far" size="8" @change="putFar"></label>
      <label>{{ t("cloth.photo.width") }}<input :value="width" size="8" :aria-invalid="wrong ? 'true' : null" @change="putWidth"></label>
    </div>
    <p v-if="wrong" role="alert" class="wrong">{{ t("cloth.wrong.photo") }}</p>
  </div>`,
};
