// The slip of what is made: a line for each thing, ticked off as it is done.
import { size } from "/parts/take_rows.js";
import { t, texts, tn } from "/parts/texts.js";

const LINES = [
  { key: "stitch", stage: "stitch files", of: (name) => name.startsWith("machine/") },
  { key: "templates", stage: "templates", of: (name) => name === "templates.pdf" },
  { key: "booklet", stage: "booklet", of: (name) => name === "booklet.pdf" },
  { key: "pictures", stage: "pictures", of: (name) => name.startsWith("pictures/") },
  { key: "record", stage: "record", of: (name) => name === "build.json" },
  { key: "warning", stage: "record", of: (name) => name === "DO-NOT-SEW.txt" },
];
/** What is made only of a work that can be planned to its end. */
const SEWN = ["stitch", "templates", "booklet"];

export const TakeSlip = {
  props: { offer: Object, making: Object, paper: String, blocked: Boolean, kinds: Array },
  emits: ["leave"],
  computed: {
    ready() {
      return this.making?.state === "ready";
    },
    /** Kinds that can be left out by a press, as long as nothing is made and one stays. */
    leavable() {
      return this.making || this.kinds.length < 2 ? [] : this.offer.kinds.filter((k) => this.kinds.includes(k.key));
    },
    lines() {
      const shown = LINES.filter((line) => (line.key === "warning" ? this.blocked : this.offer.stitch.length > 0 || !SEWN.includes(line.key)));
      return shown.map((line) => ({ ...line, state: this.state(line), files: this.files(line), much: this.much(line) })).filter((line) => !this.ready || line.files.length);
    },
  },
  methods: {
    t,
    tn,
    size: (bytes) => size(bytes, texts.language),
    state(line) {
      if (this.ready) return "done";
      if (this.making?.state !== "working") return "open";
      const at = this.making.stages.indexOf(line.stage);
      if (at < this.making.done) return "done";
      return at === this.making.done ? "now" : "open";
    },
    files(line) {
      return this.ready ? this.making.files.filter((file) => line.of(file.name)) : [];
    },
    much(line) {
      const mine = this.files(line);
      if (!mine.length) return "";
      const bytes = size(mine.reduce((sum, file) => sum + file.size, 0), texts.language);
      return mine.length === 1 ? bytes : t("take.files", { n: mine.length, size: bytes });
    },
  },
  template: `
  <section class="sheet slip" :aria-label="t('take.slip')">
    <h2>{{ t(ready ? "take.slip.made" : "take.slip") }}</h2>
    <ol>
      <li v-for="line in lines" :key="line.key" :class="line.state">
        <span class="tick" aria-hidden="true"></span>
        <div>
          <p class="slip-head"><strong>{{ t("take.line." + line.key) }}</strong><span v-if="line.state !== 'open'" class="unseen">{{ t("take.line." + line.state) }}</span><span class="much">{{ line.much }}</span></p>
          <p class="quiet">{{ t("take.about." + line.key, { paper }) }}</p>
          <ul v-if="line.key === 'stitch'" class="slip-hoopings"><li v-for="h in offer.stitch" :key="h.title"><span>{{ h.title }}</span>: <span class="names">{{ h.files.join(", ") }}</span></li></ul>
          <div v-if="line.key === 'stitch' && leavable.length" class="slip-kinds" role="group" :aria-label="t('take.kinds')">
            <button v-for="k in leavable" :key="k.key" type="button" class="plain" :aria-label="t('take.kinds.leave', { ending: k.ending })" :title="t('take.kinds.leave', { ending: k.ending })" @click="$emit('leave', k.key)">{{ k.ending }}<span aria-hidden="true">×</span></button>
          </div>
          <details v-if="line.files.length > 1 && line.key !== 'stitch'"><summary>{{ t("take.each") }}</summary><ul class="slip-files"><li v-for="f in line.files" :key="f.name"><span class="names">{{ f.name }}</span><span class="much">{{ size(f.size) }}</span></li></ul></details>
        </div>
      </li>
    </ol>
  </section>`,
};
