// What is laid or sewn on the panel: a list of it, something to add, and the form of what is chosen.
import { showing } from "/parts/cloth_colours.js";
import { inside } from "/parts/geometry.js";
import { addChanges, firstWords, fitting, isSame, middleOf, modelOf, putChanges, removeChanges, roomFor, things, writtenAt } from "/parts/laid.js";
import { filesBeside, FILES, takeIn } from "/parts/laid_files.js";
import { LaidAccent } from "/parts/laid_accent.js";
import { LaidLetters } from "/parts/laid_letters.js";
import { LaidPlace } from "/parts/laid_place.js";
import { LaidStitches } from "/parts/laid_stitches.js";
import { titleOf } from "/parts/laid_words.js";
import { sentence } from "/parts/take_rows.js";
import { t } from "/parts/texts.js";

const FORMS = { lettering: "LaidLetters", placed: "LaidStitches", accents: "LaidAccent" };
const WIDEST = 60; // mm of letters that are new
const OFF = 5; // mm from the edges of a piece: half the width of a seam stitch, and a little
const PART = 0.8; // of the room there is on a piece
const FLAT = 3; // so much wider than high are letters
const FIRST = "leaf";
const SIGN = 4.6; // mm of a letter just large enough to be sewn
const LEAST = 20; // mm: letters in less are too small to be sewn

export const ClothLaid = {
  components: { LaidAccent, LaidLetters, LaidPlace, LaidStitches },
  props: { store: Object, panel: Object, letter: String, thing: Object, offer: Object },
  emits: ["update:thing"],
  data: () => ({ trouble: null, busy: false, files: { stitches: [], font: [], motif: [] } }),
  mounted() {
    this.look();
    this.reveal();
  },
  computed: {
    project() {
      return this.store.project;
    },
    rows() {
      return things(this.project.panel).map((row) => ({ ...row, key: `${row.kind} ${row.number}`, title: titleOf(row, this.project.panel), drawn: this.drawnOf(row), open: isSame(row, this.thing) }));
    },
    accept: () => FILES.stitches.accept,
  },
  watch: {
    thing() {
      this.trouble = null;
      this.reveal();
    },
  },
  methods: {
    t,
    sentence,
    form: (kind) => FORMS[kind],
    async look() {
      this.files = await filesBeside(this.store.name).catch(() => this.files);
    },
    drawnOf(thing) {
      return this.panel?.laid?.find((row) => isSame(row, thing)) ?? null;
    },
    inks(row) {
      return [...new Set((row.drawn?.stitches ?? []).map((s) => s.colour))].slice(0, 4);
    },
    reveal() {
      this.$nextTick(() => this.$el.querySelector?.(".laid-row.open .give")?.scrollIntoView({ block: "nearest" }));
    },
    turn(row) {
      this.$emit("update:thing", row.open ? null : { kind: row.kind, number: row.number });
    },
    put(row, what, values) {
      this.store.edit(t(`laid.did.${what}`, { what: row.title }), putChanges(row, values));
    },
    show(row, values) {
      if (values === null) this.still();
      else this.store.attempt(putChanges(row, values));
    },
    still() {
      if (!this.store.saving) this.store.settle();
    },
    async remove(row) {
      this.$emit("update:thing", null);
      await this.store.edit(t("laid.did.removed", { what: row.title }), removeChanges(this.project.panel, row));
      this.$nextTick(this.toFirst);
    },
    /** What had the focus is gone. */
    toFirst() {
      this.$refs.first?.focus();
    },
    /** The thread that shows best on what is below a place; null where it is the first one. */
    threadOn(at) {
      const far = (p) => (inside(p.area, at) ? -1 : Math.hypot(p.at[0] - at[0], p.at[1] - at[1]));
      const below = this.panel.patches.slice().sort((a, b) => far(a) - far(b))[0];
      const key = showing(this.project.threads, [below.colour]);
      return key === Object.keys(this.project.threads)[0] ? null : key;
    },
    async add(kind, entry, { at } = roomFor(this.panel, this.letter, 1, LEAST)) {
      const number = this.project.panel[kind].length + 1;
      const value = { ...entry, at: writtenAt(this.panel.frame, at) };
      await this.store.edit(t(`laid.did.added.${kind}`), addChanges(this.project.panel, kind, value));
      if (!modelOf(this.project.panel, { kind, number })) return;
      this.$emit("update:thing", { kind, number });
      setTimeout(() => this.$el.querySelector(".laid-row.open :is(textarea, input, select, .has)")?.focus(), 50);
    },
    addLetters() {
      const room = roomFor(this.panel, this.letter, FLAT, LEAST);
      const area = this.panel.patches.find((p) => p.letter === room.letter)?.area ?? this.panel.outline;
      const width = Math.round(Math.max(LEAST, fitting(area, room.at, Math.min(WIDEST, room.wide * PART), FLAT, OFF)));
      this.add("lettering", { lines: [firstWords(this.project.title, Math.floor(width / SIGN))], width, thread: this.threadOn(room.at) }, room);
    },
    addAccent() {
      const motif = this.offer.motifs.find((m) => m.name === FIRST) ?? this.offer.motifs[0];
      const room = roomFor(this.panel, this.letter, 1, motif.size[0] / PART);
      const size = Math.round(Math.min(Math.max(motif.size[0], Math.min(room.wide, room.high) * (room.letter ? PART : PART / 2)), motif.size[1], WIDEST));
      this.add("accents", { motif: motif.name, size, thread: this.threadOn(room.at) }, room);
    },
    async addFile(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (file) await this.take("stitches", file, (said) => this.add("placed", { file: said.file }));
    },
    async take(kind, file, then) {
      this.trouble = null;
      this.busy = true;
      try {
        const said = await takeIn(this.store.name, kind, file);
        await this.look();
        await then(said);
      } catch (error) {
        this.trouble = error;
      }
      this.busy = false;
    },
    middle(row, letter) {
      const piece = this.panel.patches.find((p) => p.letter === letter);
      this.put(row, "moved", { at: piece ? writtenAt(this.panel.frame, piece.at) : middleOf(this.panel.frame).map((v) => Math.round(v * 10) / 10) });
    },
  },
  template: `
  <section class="stack" :aria-label="t('cloth.mode.laid')">
    <template v-if="panel">
      <p class="quiet">{{ t(rows.length ? "laid.hint" : "laid.none") }}</p>
      <div class="laid-add">
        <button ref="first" type="button" class="plain" :disabled="busy" @click="addLetters">{{ t("laid.add.letters") }}</button>
        <button type="button" class="plain" :disabled="busy || !offer" @click="addAccent">{{ t("laid.add.accent") }}</button>
        <label class="button plain file">{{ t("laid.add.stitches") }}<input type="file" class="unseen" :accept="accept" :disabled="busy" @change="addFile"></label>
      </div>
    </template>
    <p v-else class="quiet">{{ t(rows.length ? "laid.bare.left" : "laid.bare") }}</p>
    <p v-if="trouble" role="alert" class="wrong">{{ sentence(trouble.message) }} {{ sentence(trouble.cure) }}</p>
    <ul v-if="rows.length" class="cloth-rows" :aria-label="t('cloth.mode.laid')">
      <li v-for="row in rows" :key="row.key" class="laid-row" :class="{ open: row.open }">
        <div class="cloth-row">
          <button v-if="panel" type="button" class="plain give" :aria-expanded="row.open" @click="turn(row)"><span class="laid-inks" aria-hidden="true"><i v-for="c in inks(row)" :key="c" class="spool-dot" :style="{ background: c }"></i></span><span class="cloth-row-words"><strong>{{ row.title }}</strong><span v-if="row.drawn && !row.drawn.sound" class="small">{{ t("laid.unsound") }}</span></span></button>
          <span v-else class="give"><span class="cloth-row-words"><strong>{{ row.title }}</strong></span></span>
          <button type="button" class="plain" @click="remove(row)">{{ t("laid.remove") }}<span class="unseen"> {{ row.title }}</span></button>
        </div>
        <div v-if="row.open && panel" class="cloth-form stack">
          <component :is="form(row.kind)" :store="store" :panel="panel" :row="row" :offer="offer" :files="files" :busy="busy" @put="(what, values) => put(row, what, values)" @show="show(row, $event)" @take="(kind, file, then) => take(kind, file, then)" />
          <LaidPlace :store="store" :panel="panel" :row="row" @put="(what, values) => put(row, what, values)" @middle="middle(row, $event)" />
        </div>
      </li>
    </ul>
  </section>`,
};
