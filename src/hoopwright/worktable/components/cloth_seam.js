// What runs along a seam, or along all of them: stitch, thread, width, sides, weight, a row over the row.
import { allFollow, EDGE, overChanges, seamChanges, seamFollows, seamModel, seamThread } from "/parts/cloth_changes.js";
import { showing } from "/parts/cloth_colours.js";
import { ClothPicker } from "/parts/cloth_picker.js";
import { ClothRow } from "/parts/cloth_row.js";
import { ClothSpools } from "/parts/cloth_spools.js";
import { length, readLength } from "/parts/measures.js";
import { t, tn } from "/parts/texts.js";

const WEIGHTS = ["fine", "bold", "corded"];

export const ClothSeam = {
  components: { ClothPicker, ClothRow, ClothSpools },
  props: { store: Object, panel: Object, seam: Number, offer: Object },
  emits: ["update:seam"],
  data: () => ({ picking: null, wrong: null }),
  computed: {
    project() {
      return this.store.project;
    },
    model() {
      return seamModel(this.project.panel, this.seam);
    },
    isOwn() {
      return this.seam !== null && this.seam !== EDGE && String(this.seam) in this.project.panel.seams;
    },
    owns() {
      return Object.keys(this.project.panel.seams).length;
    },
    table() {
      return this.offer.stitches.find((s) => s.name === this.model.stitch) ?? null;
    },
    thread() {
      return seamThread(this.project, this.seam);
    },
    ink() {
      return this.colour(this.thread);
    },
    /** The cloth of a piece beside the seam, on which swatches are shown. */
    cloth() {
      return this.cloths[0];
    },
    /** The cloths of the pieces nearest to the seam. */
    cloths() {
      const patches = this.panel.patches;
      const line = this.panel.seams.find((s) => s.number === this.seam) ?? this.panel.seams[0];
      if (!line) return [patches[0].colour];
      const middle = [(line.from[0] + line.to[0]) / 2, (line.from[1] + line.to[1]) / 2];
      const far = (p) => Math.hypot(p.at[0] - middle[0], p.at[1] - middle[1]);
      return patches.slice().sort((a, b) => far(a) - far(b)).slice(0, 2).map((p) => p.colour);
    },
    overTable() {
      return this.offer.stitches.find((s) => s.name === this.model.over?.stitch) ?? null;
    },
    /** The thread of the second row; one that is new is proposed so that it shows on the first row and on the cloths. */
    overThread() {
      return this.model.over ? (this.model.over.thread ?? this.thread) : (showing(this.project.threads, [this.ink, ...this.cloths]) ?? this.thread);
    },
    rows() {
      return [{ name: "none", title: "" }, ...this.offer.stitches];
    },
    width() {
      return this.model.width === null ? "" : length(this.model.width, this.project.units);
    },
    measures() {
      if (!this.table) return "";
      const [least, usual] = this.table.widths[this.model.weight].map((mm) => length(mm, this.project.units));
      return t("cloth.seam.widths", { least, usual });
    },
    weights: () => WEIGHTS,
    isEdge() {
      return this.seam === EDGE;
    },
    distance() {
      return length(this.model.distance, this.project.units);
    },
  },
  watch: {
    seam() {
      this.picking = null;
      this.wrong = null;
    },
  },
  methods: {
    t,
    tn,
    colour(key) {
      return this.project.threads[key]?.colour ?? "#22262b";
    },
    swatch(name) {
      return `/api/swatches/stitch/${name}.svg?thread=${this.ink.slice(1)}&cloth=${this.cloth.slice(1)}&weight=${this.model.weight}&mirror=${this.model.mirror}`;
    },
    /** A second row lies on its first. */
    overSwatch(name) {
      const { stitch, weight, mirror, over } = this.model;
      const hues = `thread=${this.colour(this.overThread).slice(1)}&cloth=${this.cloth.slice(1)}&weight=${over?.weight ?? "bold"}&mirror=${over?.mirror ?? false}`;
      return `/api/swatches/stitch/${name}.svg?${hues}&over=${stitch}&below=${this.ink.slice(1)}&below_weight=${weight}&below_mirror=${mirror}`;
    },
    where() {
      if (this.isEdge) return t("cloth.seam.edge");
      return this.seam === null ? t("cloth.seam.all") : t("cloth.seam.name", { n: this.seam });
    },
    changes(values) {
      return seamChanges(this.project.panel, this.seam, values);
    },
    put(what, values) {
      this.store.edit(t(`cloth.did.${what}`, { where: this.where() }), this.changes(values));
    },
    look(values) {
      if (values === null) this.still();
      else if (this.changes(values).length) this.store.attempt(this.changes(values));
    },
    /** Leave a trial; what is just being saved stays in sight until it is. */
    still() {
      if (!this.store.saving) this.store.settle();
    },
    showStitch(name) {
      this.look(name === null ? null : { stitch: name });
    },
    takeStitch(name) {
      if (name !== this.model.stitch) this.put("stitch", { stitch: name });
      this.close();
    },
    overRow(values) {
      return overChanges(this.project.panel, this.seam, values);
    },
    showOver(name) {
      if (name === null) this.still();
      else this.store.attempt(this.overRow(this.overNamed(name)));
    },
    takeOver(name) {
      if (name !== (this.model.over?.stitch ?? "none")) this.putOver(this.overNamed(name));
      this.close();
    },
    overNamed(name) {
      if (name === "none") return null;
      return this.model.over ? { stitch: name } : { stitch: name, thread: this.overThread };
    },
    putRow(values) {
      this.put("detail", values);
    },
    putOver(values) {
      this.store.edit(t("cloth.did.over", { where: this.where() }), this.overRow(values));
    },
    /** Leave the picker: the panel is as it was, and the hand is where it came from. */
    close() {
      const from = this.picking;
      this.picking = null;
      this.still();
      this.$nextTick(() => this.$refs[from]?.focus());
    },
    putWidth(event) {
      const text = event.target.value.trim();
      const mm = text ? readLength(text, this.project.units) : null;
      this.wrong = text && (mm === null || mm < 1 || mm > 20) ? "width" : null;
      if (!this.wrong) this.put("width", { width: mm === null ? null : Math.round(mm * 100) / 100 });
    },
    putDistance(event) {
      const mm = readLength(event.target.value, this.project.units);
      this.wrong = mm === null || mm < 1 || mm > 60 ? "distance" : null;
      if (!this.wrong) this.put("distance", { distance: Math.round(mm * 100) / 100 });
    },
    follow() {
      this.store.edit(t("cloth.did.follow", { where: this.where() }), seamFollows(this.seam));
    },
    letFollow() {
      this.store.edit(t("cloth.did.follow.all"), allFollow(this.project.panel));
    },
  },
  template: `
  <section class="stack" :aria-label="t('cloth.mode.seam')">
    <div class="row cloth-which">
      <label>{{ t("cloth.seam.which") }}<select :value="seam ?? ''" @change="$emit('update:seam', $event.target.value ? Number($event.target.value) : null)">
        <option value="">{{ t("cloth.seam.all.long") }}</option><option v-for="s in panel.seams" :key="s.number" :value="s.number">{{ t(String(s.number) in project.panel.seams ? "cloth.seam.own" : "cloth.seam.name", { n: s.number }) }}</option><option value="0">{{ t("cloth.seam.edge.long") }}</option></select></label>
      <button v-if="isOwn" type="button" class="plain" @click="follow">{{ t("cloth.seam.follow") }}</button>
      <button v-if="seam === null && owns" type="button" class="plain" @click="letFollow">{{ tn("cloth.seam.follow.all", owns) }}</button>
    </div>
    <button ref="stitch" type="button" class="plain has" :aria-expanded="picking === 'stitch'" @click="picking === 'stitch' ? close() : (picking = 'stitch')">
      <img v-if="table" :src="swatch(table.name)" alt="" width="144" height="68"><span v-else class="has-plain" :style="{ background: cloth }"></span>
      <span class="has-words"><strong>{{ t("stitch." + (table ? table.name : "none")) }}</strong><span class="quiet">{{ t("cloth.seam.choose") }}</span></span></button>
    <ClothPicker v-if="picking === 'stitch'" :rows="rows" kind="stitch" :image="swatch" :size="[144, 68]" :cloth="cloth" :now="model.stitch" :label="t('cloth.seam.choose')" @show="showStitch" @take="takeStitch" @leave="close" />
    <template v-if="table">
      <ClothSpools :threads="project.threads" :now="thread" :label="t('cloth.thread')" @show="look($event === undefined ? null : { thread: $event })" @take="put('thread', { thread: $event })" />
      <div class="row">
        <label>{{ t("cloth.width") }}<input :value="width" :placeholder="t('cloth.chosen')" size="10" :aria-invalid="wrong === 'width' ? 'true' : null" aria-describedby="seam-widths" @change="putWidth"></label>
        <label v-if="isEdge">{{ t("cloth.distance") }}<input :value="distance" size="8" :aria-invalid="wrong === 'distance' ? 'true' : null" @change="putDistance"></label>
        <label>{{ t("cloth.weight") }}<select :value="model.weight" @change="put('weight', { weight: $event.target.value })"><option v-for="w in weights" :key="w" :value="w">{{ t("cloth.weight." + w) }}</option></select></label>
        <label v-if="table.sides.length">{{ t("cloth.sides") }}<select :value="model.sides ?? ''" @change="put('sides', { sides: $event.target.value || null })"><option value="">{{ t("cloth.sides.own") }}</option><option v-for="s in table.sides" :key="s" :value="s">{{ t("cloth.sides." + s) }}</option></select></label>
      </div>
      <p id="seam-widths" class="quiet small">{{ measures }}</p>
      <p v-if="wrong" role="alert" class="wrong">{{ t("cloth.wrong." + wrong) }}</p>
      <ClothRow :model="model" :units="project.units" name="row" @put="putRow" />
      <h3>{{ t("cloth.over") }}</h3>
      <button ref="over" type="button" class="plain has" :aria-expanded="picking === 'over'" @click="picking === 'over' ? close() : (picking = 'over')">
        <img v-if="model.over" :src="overSwatch(model.over.stitch)" alt="" width="144" height="68"><span v-else class="has-plain" :style="{ background: cloth }"></span>
        <span class="has-words"><strong>{{ model.over ? t("stitch." + model.over.stitch) : t("cloth.over.none") }}</strong><span class="quiet">{{ t("cloth.over.choose") }}</span></span></button>
      <ClothPicker v-if="picking === 'over'" :rows="rows" kind="stitch" :image="overSwatch" :size="[144, 68]" :cloth="cloth" :now="model.over?.stitch ?? 'none'" :label="t('cloth.over.choose')" @show="showOver" @take="takeOver" @leave="close" />
      <ClothSpools v-if="model.over" :threads="project.threads" :now="model.over.thread" :none="t('cloth.over.same')" :label="t('cloth.over.thread')" @take="putOver({ thread: $event })" />
      <ClothRow v-if="model.over" :model="model.over" :units="project.units" :table="overTable" name="over" @put="putOver" />
    </template>
  </section>`,
};
