// Letters on the panel: what is written, how large, in which letters and thread.
import { ClothSpools } from "/parts/cloth_spools.js";
import { linesOf, WIDTH } from "/parts/laid.js";
import { FILES } from "/parts/laid_files.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const REST_MS = 250; // how long writing rests before the panel shows it
const BOUNDS = { width: WIDTH, height: WIDTH, capitals: [3, 200] }; // mm
const ALIGN = ["left", "middle", "right"];
const OTHER = "*"; // a font that is still to be taken in

export const LaidLetters = {
  components: { ClothSpools },
  props: { store: Object, panel: Object, row: Object, files: Object, busy: Boolean },
  emits: ["put", "show", "take"],
  data: () => ({ wrong: null, lacking: "", draft: null }), // draft: what is being written, null while nothing is
  created() {
    this.rest = 0;
  },
  unmounted() {
    clearTimeout(this.rest);
  },
  computed: {
    model() {
      return this.row.model;
    },
    units() {
      return this.store.project.units;
    },
    text() {
      return this.model.lines.join("\n");
    },
    /** What stands in the field: what is being written stays there, whatever is drawn anew beside it. */
    written() {
      return this.draft ?? this.text;
    },
    thread() {
      return this.model.thread ?? Object.keys(this.store.project.threads)[0];
    },
    fonts() {
      return [...new Set([...this.files.font, ...(this.model.font ? [this.model.font] : [])])].sort();
    },
    aligns: () => ALIGN,
    accept: () => FILES.font.accept,
    other: () => OTHER,
  },
  methods: {
    t,
    shown(mm) {
      return mm === null ? "" : length(mm, this.units);
    },
    typed(event) {
      clearTimeout(this.rest);
      this.draft = event.target.value;
      const lines = linesOf(this.draft);
      if (lines.length) this.rest = setTimeout(() => this.$emit("show", { lines }), REST_MS);
    },
    putLines(event) {
      clearTimeout(this.rest);
      const lines = linesOf(event.target.value);
      this.wrong = lines.length ? null : "lines";
      if (this.wrong) this.$emit("show", null);
      else if (lines.join("\n") !== this.text) this.$emit("put", "lines", { lines });
      else this.$emit("show", null);
      if (!this.wrong) this.draft = null;
    },
    putLength(key, event) {
      const text = event.target.value.trim();
      const mm = text ? readLength(text, this.units) : null;
      const [low, high] = BOUNDS[key];
      this.wrong = (text || key === "width") && (mm === null || mm < low || mm > high) ? key : null;
      if (!this.wrong) this.$emit("put", "sized", { [key]: mm === null ? null : Math.round(mm * 100) / 100 });
    },
    putFont(event) {
      if (event.target.value === OTHER) {
        event.target.value = this.model.font ?? "";
        this.$refs.file.click();
      } else this.$emit("put", "font", { font: event.target.value || null });
    },
    takeFont(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (!file) return;
      this.$emit("take", "font", file, (said) => {
        this.lacking = said.lacking;
        this.$emit("put", "font", { font: said.file });
      });
    },
  },
  template: `
  <label class="laid-lines">{{ t("laid.letters.lines") }}<textarea :value="written" rows="3" maxlength="250" :aria-invalid="wrong === 'lines' ? 'true' : null" aria-describedby="laid-lines-hint" @input="typed" @change="putLines"></textarea></label>
  <p id="laid-lines-hint" class="quiet small">{{ t("laid.letters.hint") }}</p>
  <div class="row">
    <label>{{ t("laid.letters.font") }}<select :value="model.font ?? ''" :disabled="busy" @change="putFont"><option value="">{{ t("laid.letters.single") }}</option><option v-for="f in fonts" :key="f" :value="f">{{ t("laid.letters.own", { font: f }) }}</option><option :value="other">{{ t("laid.letters.other") }}</option></select></label>
    <input ref="file" type="file" class="unseen" tabindex="-1" :accept="accept" :aria-label="t('laid.letters.other')" @change="takeFont">
    <label>{{ t("laid.letters.align") }}<select :value="model.align" @change="$emit('put', 'align', { align: $event.target.value })"><option v-for="a in aligns" :key="a" :value="a">{{ t("laid.letters.align." + a) }}</option></select></label>
  </div>
  <p v-if="lacking" class="quiet small">{{ t("laid.letters.lacking", { signs: lacking }) }}</p>
  <div class="row">
    <label>{{ t("cloth.width") }}<input :value="shown(model.width)" size="8" :aria-invalid="wrong === 'width' ? 'true' : null" @change="putLength('width', $event)"></label>
    <label>{{ t("laid.letters.height") }}<input :value="shown(model.height)" :placeholder="t('laid.letters.needed')" size="9" :aria-invalid="wrong === 'height' ? 'true' : null" @change="putLength('height', $event)"></label>
    <label>{{ t("laid.letters.capitals") }}<input :value="shown(model.capitals)" :placeholder="t('laid.letters.fits')" size="11" :aria-invalid="wrong === 'capitals' ? 'true' : null" @change="putLength('capitals', $event)"></label>
  </div>
  <p v-if="wrong" role="alert" class="wrong">{{ t("laid.wrong." + wrong) }}</p>
  <ClothSpools :threads="store.project.threads" :now="thread" :label="t('cloth.thread')" @show="$emit('show', $event === undefined ? null : { thread: $event })" @take="$emit('put', 'thread', { thread: $event })" />`,
};
