// A stitch file on the panel: which one, mirrored or not, a little larger or smaller, and the threads of its blocks.
import { SCALE, threadsWith } from "/parts/laid.js";
import { FILES } from "/parts/laid_files.js";
import { decimal } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const OTHER = "*"; // a file that is still to be taken in

export const LaidStitches = {
  props: { store: Object, panel: Object, row: Object, files: Object, busy: Boolean },
  emits: ["put", "show", "take"],
  data: () => ({ wrong: null }),
  computed: {
    model() {
      return this.row.model;
    },
    blocks() {
      return this.row.drawn?.blocks ?? [];
    },
    names() {
      return [...new Set([...this.files.stitches, this.model.file])].sort();
    },
    percent() {
      return decimal(this.model.scale * 100);
    },
    accept: () => FILES.stitches.accept,
    other: () => OTHER,
  },
  methods: {
    t,
    ink(block) {
      return this.store.project.threads[block.thread]?.colour ?? "#22262b";
    },
    putFile(event) {
      if (event.target.value === OTHER) {
        event.target.value = this.model.file;
        this.$refs.file.click();
      } else this.$emit("put", "file", { file: event.target.value, threads: [] });
    },
    takeFile(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (file) this.$emit("take", "stitches", file, (said) => this.$emit("put", "file", { file: said.file, threads: [] }));
    },
    putScale(event) {
      const scale = Math.round(Number(event.target.value.replace("%", "").replace(",", ".")) * 10) / 1000;
      this.wrong = !(scale >= SCALE[0] && scale <= SCALE[1]);
      if (!this.wrong) this.$emit("put", "sized", { scale });
    },
    putThread(k, event) {
      this.$emit("put", "thread", { threads: threadsWith(this.blocks, this.model.threads, k, event.target.value) });
    },
  },
  template: `
  <div class="row">
    <label>{{ t("laid.stitches.file") }}<select :value="model.file" :disabled="busy" @change="putFile"><option v-for="f in names" :key="f" :value="f">{{ f }}</option><option :value="other">{{ t("laid.stitches.other") }}</option></select></label>
    <input ref="file" type="file" class="unseen" tabindex="-1" :accept="accept" :aria-label="t('laid.stitches.other')" @change="takeFile">
    <label>{{ t("laid.stitches.scale") }}<input :value="percent" size="5" inputmode="decimal" :aria-invalid="wrong ? 'true' : null" aria-describedby="laid-scale-hint" @change="putScale"></label>
    <label class="beside"><input type="checkbox" :checked="model.mirror" @change="$emit('put', 'mirrored', { mirror: $event.target.checked })">{{ t("laid.stitches.mirror") }}</label>
  </div>
  <p id="laid-scale-hint" class="quiet small">{{ t("laid.stitches.scale.hint") }}</p>
  <p v-if="wrong" role="alert" class="wrong">{{ t("laid.wrong.scale") }}</p>
  <fieldset v-if="blocks.length" class="laid-blocks">
    <legend>{{ t("laid.stitches.threads") }}</legend>
    <ol>
      <li v-for="(block, k) in blocks" :key="k"><i class="spool-dot" :style="{ background: ink(block) }" aria-hidden="true"></i><label>{{ t("laid.stitches.block", { n: k + 1 }) }}<select :value="block.thread" @change="putThread(k, $event)"><option v-for="(thread, key) in store.project.threads" :key="key" :value="key">{{ thread.name }}</option></select></label></li>
    </ol>
    <div class="row"><p v-if="!model.threads.length" class="quiet small">{{ t("laid.stitches.nearest") }}</p><button v-else type="button" class="plain" @click="$emit('put', 'thread', { threads: [] })">{{ t("laid.stitches.propose") }}</button></div>
  </fieldset>`,
};
