// The ground that quilts a panel, or one of its pieces: kind, spacing, margin, angle, drawing, thread.
import { groundChanges, groundFollows, groundModel } from "/parts/cloth_changes.js";
import { ClothPicker } from "/parts/cloth_picker.js";
import { ClothSpools } from "/parts/cloth_spools.js";
import { of } from "/parts/ask.js";
import { FILES, takeIn } from "/parts/laid_files.js";
import { length, readLength } from "/parts/measures.js";
import { sentence } from "/parts/take_rows.js";
import { t } from "/parts/texts.js";

const BOUNDS = { spacing: [1.5, 60], margin: [0, 30] }; // mm

export const ClothGround = {
  components: { ClothPicker, ClothSpools },
  props: { store: Object, panel: Object, letter: String, near: String, offer: Object },
  emits: ["update:letter"],
  data: () => ({ picking: false, wrong: null, drawn: null, wanted: null, trouble: null, busy: false }),
  computed: {
    project() {
      return this.store.project;
    },
    units() {
      return this.project.units;
    },
    piece() {
      return this.letter ?? null;
    },
    model() {
      return groundModel(this.project.panel, this.piece);
    },
    isOwn() {
      return this.piece !== null && this.piece in this.project.panel.grounds;
    },
    table() {
      return this.offer.grounds.find((g) => g.name === this.model.kind) ?? null;
    },
    rows() {
      return [{ name: "none", title: "" }, ...this.offer.grounds];
    },
    /** The piece that the switch offers beside the whole panel: the one that is meant, or was chosen last. */
    offered() {
      return this.piece ?? (this.panel.patches.some((p) => p.letter === this.near) ? this.near : this.panel.patches[0].letter);
    },
    accept: () => FILES.motif.accept,
    thread() {
      return this.model.thread ?? Object.keys(this.project.threads)[0];
    },
    ink() {
      return this.project.threads[this.thread]?.colour ?? "#22262b";
    },
    cloth() {
      return (this.panel.patches.find((p) => p.letter === this.piece) ?? this.panel.patches[0]).colour;
    },
    measures() {
      const [least, usual] = this.table.spacing.map((mm) => length(mm, this.units));
      return t("cloth.ground.spacings", { least, usual });
    },
  },
  watch: {
    letter() {
      this.picking = false;
      this.wrong = null;
      this.trouble = null;
    },
  },
  methods: {
    t,
    sentence,
    where() {
      return this.piece === null ? t("cloth.ground.panel") : t("cloth.piece", { letter: this.piece });
    },
    shown(mm) {
      return mm === null ? "" : length(mm, this.units);
    },
    isOfOwn(name) {
      return this.offer.grounds.find((g) => g.name === name)?.own ?? false;
    },
    swatch(name) {
      const hues = `thread=${this.ink.slice(1)}&cloth=${this.cloth.slice(1)}`;
      if (this.isOfOwn(name) && this.model.file) return `${of(this.store.name)}/beside/motif/${name}.svg?file=${encodeURIComponent(this.model.file)}&${hues}`;
      return `/api/swatches/ground/${name}.svg?${hues}`;
    },
    changes(values) {
      return groundChanges(this.project.panel, this.piece, values);
    },
    put(what, values) {
      this.store.edit(t(`cloth.did.${what}`, { where: this.where() }), this.changes(values));
    },
    look(values) {
      if (values === null) this.still();
      else this.store.attempt(this.changes(values));
    },
    /** Leave a trial; what is just being saved stays in sight until it is. */
    still() {
      if (!this.store.saving) this.store.settle();
    },
    showKind(name) {
      const bare = this.isOfOwn(name) && !this.model.file; // nothing to show before there is a drawing
      this.look(name === null || bare ? null : this.values(name));
    },
    /** Another ground takes its own spacing and angle. */
    values(name) {
      return { kind: name, spacing: null, angle: null };
    },
    takeKind(name) {
      this.wanted = null;
      if (this.isOfOwn(name) && !this.model.file) {
        this.wanted = name;
        this.picking = false;
        this.still();
        this.$refs.file.click();
        return;
      }
      if (name !== this.model.kind) this.put("ground", this.values(name));
      this.close();
    },
    async takeFile(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (!file) return;
      this.trouble = null;
      this.busy = true;
      try {
        const said = await takeIn(this.store.name, "motif", file);
        this.put("motif", { ...(this.wanted ? this.values(this.wanted) : {}), file: said.file });
        this.wanted = null;
      } catch (error) {
        this.trouble = error;
      }
      this.busy = false;
    },
    close() {
      this.picking = false;
      this.still();
      this.$nextTick(() => this.$refs.ground?.focus());
    },
    putLength(key, event) {
      const text = event.target.value.trim();
      const mm = text ? readLength(text, this.units) : null;
      const [low, high] = BOUNDS[key];
      this.wrong = text && (mm === null || mm < low || mm > high) ? key : null;
      if (!this.wrong) this.put(key, { [key]: mm === null ? null : Math.round(mm * 100) / 100 });
    },
    putAngle(event) {
      const text = event.target.value.trim().replace(",", ".");
      const value = text ? Number(text) : null;
      this.wrong = value !== null && !(Math.abs(value) <= 180) ? "angle" : null;
      if (!this.wrong) this.put("angle", { angle: value });
    },
    seed(event) {
      this.drawn = Number(event.target.value);
      this.look({ seed: this.drawn });
    },
    putSeed(event) {
      this.drawn = null;
      this.put("seed", { seed: Number(event.target.value) });
    },
    follow() {
      this.store.edit(t("cloth.did.follow", { where: this.where() }), groundFollows(this.piece));
    },
  },
  template: `
  <section class="stack" :aria-label="t('cloth.mode.ground')">
    <h3 class="ground-head">{{ piece === null ? t("cloth.ground.head.panel") : t("cloth.ground.head.piece", { letter: piece }) }}</h3>
    <div class="modes two" role="group" :aria-label="t('cloth.ground.which')">
      <button type="button" class="plain" :aria-pressed="piece === null" @click="$emit('update:letter', null)">{{ t("cloth.ground.panel.long") }}</button>
      <button type="button" class="plain" :aria-pressed="piece !== null" @click="$emit('update:letter', offered)">{{ t("cloth.ground.piece", { letter: offered }) }}</button>
    </div>
    <div v-if="piece !== null" class="row cloth-which">
      <label>{{ t("cloth.ground.other") }}<select :value="piece" @change="$emit('update:letter', $event.target.value)"><option v-for="p in panel.patches" :key="p.letter" :value="p.letter">{{ t(p.letter in project.panel.grounds ? "cloth.ground.own" : "cloth.piece", { letter: p.letter }) }}</option></select></label>
      <button v-if="isOwn" type="button" class="plain" @click="follow">{{ t("cloth.ground.follow") }}</button>
    </div>
    <p v-if="piece !== null && !isOwn" class="quiet small">{{ t("cloth.ground.follows") }}</p>
    <button ref="ground" type="button" class="plain has" :aria-expanded="picking" @click="picking ? close() : (picking = true)">
      <img v-if="table" :src="swatch(table.name)" alt="" width="136" height="96"><span v-else class="has-plain" :style="{ background: cloth }"></span>
      <span class="has-words"><strong>{{ t("ground." + (table ? table.name : "none")) }}</strong><span class="quiet">{{ t("cloth.ground.choose") }}</span></span></button>
    <ClothPicker v-if="picking" :rows="rows" kind="ground" :image="swatch" :size="[136, 96]" :cloth="cloth" :now="model.kind" :label="t('cloth.ground.choose')" @show="showKind" @take="takeKind" @leave="close" />
    <input ref="file" type="file" class="unseen" tabindex="-1" :accept="accept" :aria-label="t('cloth.ground.motif')" @change="takeFile">
    <p v-if="trouble" role="alert" class="wrong">{{ sentence(trouble.message) }} {{ sentence(trouble.cure) }}</p>
    <p v-if="wanted && !trouble" class="quiet">{{ t("cloth.ground.motif.wanted") }}</p>
    <div v-if="wanted || (table && table.own)" class="row ground-motif"><p v-if="model.file" class="small">{{ t("cloth.ground.motif.is", { file: model.file }) }}</p><button type="button" class="plain" :disabled="busy" @click="$refs.file.click()">{{ t(model.file ? "cloth.ground.motif.other" : "cloth.ground.motif") }}</button></div>
    <p v-if="wanted || (table && table.own)" class="quiet small">{{ t("cloth.ground.motif.hint") }}</p>
    <template v-if="table">
      <ClothSpools :threads="project.threads" :now="thread" :label="t('cloth.thread')" @show="look($event === undefined ? null : { thread: $event })" @take="put('thread', { thread: $event })" />
      <div class="row">
        <label>{{ t("cloth.ground.spacing") }}<input :value="shown(model.spacing)" :placeholder="shown(table.spacing[1])" size="8" :aria-invalid="wrong === 'spacing' ? 'true' : null" aria-describedby="ground-spacings" @change="putLength('spacing', $event)"></label>
        <label>{{ t("cloth.ground.margin") }}<input :value="shown(model.margin)" size="8" :aria-invalid="wrong === 'margin' ? 'true' : null" @change="putLength('margin', $event)"></label>
        <label>{{ t("cloth.ground.angle") }}<input :value="model.angle ?? ''" :placeholder="String(table.angle)" size="5" inputmode="decimal" :aria-invalid="wrong === 'angle' ? 'true' : null" @change="putAngle"></label>
        <label>{{ t("cloth.ground.times") }}<select :value="model.times" @change="put('times', { times: Number($event.target.value) })"><option v-for="n in 3" :key="n" :value="n">{{ t("cloth.ground.times." + n) }}</option></select></label>
      </div>
      <p id="ground-spacings" class="quiet small">{{ measures }}</p>
      <p v-if="wrong" role="alert" class="wrong">{{ t("cloth.wrong." + wrong) }}</p>
      <label v-if="table.seeded" class="slider">{{ t("cloth.ground.seed", { seed: drawn ?? model.seed }) }}<input type="range" min="1" max="200" :value="drawn ?? model.seed" @input="seed" @change="putSeed"></label>
    </template>
  </section>`,
};
