// The drafting screen: the outline with its measures, the cuts under the hand, the order at once.
import { Board } from "/parts/board.js";
import { CutForm } from "/parts/cut_form.js";
import { RuleForm } from "/parts/rule_form.js";
import { OutlineForm } from "/parts/outline_form.js";
import { OrderNote } from "/parts/order_note.js";
import { carried, toFile, toHoop, written } from "/parts/geometry.js";
import { t } from "/parts/texts.js";

export const Draw = {
  components: { Board, CutForm, RuleForm, OutlineForm, OrderNote },
  props: { store: Object },
  data: () => ({ chosen: null, patch: null, tool: "move", snap: true }),
  computed: {
    view() {
      return this.store.tried ?? this.store.view;
    },
    panel() {
      return this.view?.panels[0] ?? null;
    },
    work() {
      return this.store.project?.panel.patchwork ?? { way: "cuts", cuts: [] };
    },
    byHand() {
      return this.work.way === "cuts" || this.work.way === "lines";
    },
    field() {
      return this.work.way === "lines" ? "lines" : "cuts";
    },
    /** The strokes of the project file as they lie in the hoop. */
    strokes() {
      if (!this.panel || !this.byHand) return [];
      return (this.work[this.field] ?? []).map((s) => s.map((p) => toHoop(this.panel.frame, p)));
    },
    shown() {
      return this.moving ?? this.strokes;
    },
  },
  created() {
    this.moving = null;
  },
  methods: {
    t,
    path() {
      return `panel.patchwork.${this.field}`;
    },
    file(strokes) {
      return strokes.map((s) => s.map((p) => written(toFile(this.panel.frame, p))));
    },
    changes(strokes) {
      if (!this.store.project.panel.patchwork) return [{ path: "panel.patchwork", value: { way: "cuts", cuts: this.file(strokes) } }];
      return [{ path: this.path(), value: this.file(strokes) }];
    },
    /** A stroke is under way: show what would come of it. */
    drag(index, stroke) {
      this.store.attempt(this.changes(this.moved(index, stroke)));
    },
    /** A stroke has come to rest. */
    drop(index, stroke) {
      this.store.edit(t("did.moved", { n: index + 1 }), this.changes(this.moved(index, stroke)));
    },
    moved(index, stroke) {
      return this.field === "cuts" ? carried(this.strokes, index, stroke) : this.strokes.map((s, i) => (i === index ? stroke : s));
    },
    async add(stroke) {
      this.store.edit(t("did.cut"), this.changes([...this.strokes, stroke]));
      this.chosen = this.strokes.length;
    },
    remove(index) {
      this.store.edit(t("did.removed", { n: index + 1 }), this.changes(this.strokes.filter((_, i) => i !== index)));
      this.chosen = null;
    },
    /** Turn a drawing made by a rule, or taken from a file, into lines that hands can move. */
    unbind() {
      const lines = this.panel.seams.map((s) => [s.from, s.to].map((p) => written(toFile(this.panel.frame, p))));
      this.store.edit(t("did.unbound"), [{ path: "panel.patchwork", value: { way: "lines", lines } }]);
    },
  },
  template: `
  <section class="draw" v-if="panel" :aria-label="t('frame.draw')">
    <div class="draw-tools row" role="toolbar" :aria-label="t('draw.tools')">
      <template v-if="byHand">
        <button class="plain" :aria-pressed="tool === 'move'" @click="tool = 'move'">{{ t("draw.move") }}</button>
        <button class="plain" :aria-pressed="tool === 'cut'" @click="tool = 'cut'">{{ t("draw.cut") }}</button>
        <label class="beside"><input type="checkbox" v-model="snap">{{ t("draw.snap") }}</label>
      </template>
      <button v-else class="plain" @click="unbind">{{ t("draw.unbind") }}</button>
      <p class="quiet hint">{{ t(tool === "cut" ? "draw.cut.hint" : "draw.move.hint") }}</p>
    </div>
    <Board :store="store" :panel="panel" :strokes="strokes" :tool="tool" :snap="snap" v-model:chosen="chosen" v-model:patch="patch"
      @drag="drag" @drop="drop" @add="add" @remove="remove" />
    <OrderNote :store="store" :panel="panel" />
    <div class="draw-forms">
      <CutForm v-if="byHand" :store="store" :strokes="strokes" :chosen="chosen" :panel="panel" :patch="patch" @drop="drop" @remove="remove" @add="add" />
      <OutlineForm :store="store" />
      <RuleForm :store="store" :panel="panel" />
    </div>
  </section>`,
};
