// The drafting screen: the outline with its measures, the cuts under the hand, the order at once.
import { markRaw } from "vue";
import { ask, of, Trouble } from "/parts/ask.js";
import { Board } from "/parts/board.js";
import { CutForm } from "/parts/cut_form.js";
import { RuleForm } from "/parts/rule_form.js";
import { MakeForm } from "/parts/make_form.js";
import { OutlineForm } from "/parts/outline_form.js";
import { OrderNote } from "/parts/order_note.js";
import { DrawCures } from "/parts/draw_cures.js";
import { DrawOrder } from "/parts/draw_order.js";
import { DrawPanels } from "/parts/draw_panels.js";
import { DrawPiece } from "/parts/draw_piece.js";
import { DrawTakeIn } from "/parts/draw_take_in.js";
import { openHand } from "/parts/draw_hand.js";
import { carried, carriedLines, inside, sides, toFile, toHoop, without, written } from "/parts/geometry.js";
import { learn } from "/parts/settings_forms.js";
import { cutOf, openHabits } from "/parts/take_places.js";
import { t } from "/parts/texts.js";
import { panelChanges } from "/parts/waiting.js";

export const Draw = {
  components: { Board, CutForm, RuleForm, MakeForm, OutlineForm, OrderNote, DrawCures, DrawOrder, DrawPanels, DrawPiece, DrawTakeIn },
  props: { store: Object },
  keeps: ["chosen", "patch", "tool", "snap", "sheet"],
  data: () => ({ chosen: null, patch: null, tool: "move", snap: true, keptAt: [], sheet: null, marks: [], moving: null, led: null, bare: null, refused: null, near: false, room: 600 }),
  created() {
    this.hand = openHand(this.store);
    this.resting = [];
    learn(this.store);
  },
  mounted() {
    window.addEventListener("resize", this.fit);
    window.addEventListener("keydown", this.key);
    this.fit();
    this.look();
    const cut = cutOf(this.store.chosen);
    if (cut !== null && this.work[this.field]?.[cut]) this.chosen = cut;
  },
  unmounted() {
    window.removeEventListener("resize", this.fit);
    window.removeEventListener("keydown", this.key);
    this.hand.leave();
  },
  watch: {
    /** A finding that was pressed leads to its cut. */
    "store.chosen"(found) {
      const cut = cutOf(found);
      if (cut !== null && this.work[this.field]?.[cut]) this.chosen = cut;
    },
    "store.version"() {
      learn(this.store);
      this.refused = null;
      const next = this.resting.at(-1);
      this.moving = next ? markRaw(this.moved(next.index, next.stroke)) : null;
      this.led = null;
      this.look();
    },
    "store.trouble"(trouble) {
      if (trouble) this.moving = null;
    },
    "panel.patches"(rows) {
      if (!rows) return;
      const letters = rows.map((p) => p.letter);
      if (this.patch && !letters.includes(this.patch)) this.patch = null;
    },
    panel() {
      this.$nextTick(this.fit);
    },
  },
  computed: {
    view() {
      return this.store.tried ?? this.store.view;
    },
    panel() {
      return this.view?.panels?.[0] ?? this.bare;
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
    frame() {
      return (this.store.view?.panels?.[0] ?? this.panel)?.frame;
    },
    /** The strokes of the project file as they lie in the hoop. */
    saved() {
      if (!this.frame || !this.byHand) return [];
      return (this.work[this.field] ?? []).map((s) => s.map((p) => toHoop(this.frame, p)));
    },
    strokes() {
      return this.moving ?? this.saved;
    },
    /** Pieces that stay when a rule draws the others: letters change, places do not. */
    kept() {
      return this.panel.patches.filter((p) => this.keptAt.some((at) => inside(p.area, at))).map((p) => p.letter);
    },
    /** Whether the panel has an outline of its own; most items draw theirs from their sizes. */
    ownOutline() {
      return Boolean(this.store.forms) && !(this.store.forms.make.length && this.store.project.panel.outline.shape === "item");
    },
    /** Why there is nothing to draw. */
    none() {
      if (this.store.problems.length || this.store.view.findings.some((row) => row.severity === "blocks")) return "draw.none.mend";
      return this.store.forms?.make.some((row) => row.name === "pieced") ? "draw.none.pieced" : "draw.none";
    },
    tools() {
      return this.byHand ? ["move", "cut"] : [];
    },
    /** What can be said above the board: the room of the longest is kept, so that the board stays where it is. */
    hints() {
      return [...(this.byHand ? ["move", "cut"] : ["rule"]), ...(this.sheet?.shown ? ["sketch", "mark"] : [])];
    },
    cutChosen() {
      return this.byHand && this.chosen !== null && Boolean(this.strokes[this.chosen]);
    },
    hint() {
      return this.hints.includes(this.tool) ? this.tool : this.hints[0];
    },
  },
  methods: {
    t,
    openHabits,
    /** How much room is left for the board under the head and above the totals. */
    fit() {
      if (!this.$el?.getBoundingClientRect) return;
      const totals = document.querySelector(".totals");
      const below = totals && getComputedStyle(totals).position === "sticky" ? totals.offsetHeight : 0;
      this.room = Math.max(300, window.innerHeight - (this.$el.getBoundingClientRect().top + window.scrollY) - below - 14);
    },
    /** A drawing that makes no pieces still shows its outline. */
    async look() {
      if (this.store.view?.panels?.length) return (this.bare = null);
      try {
        const said = await ask(`${of(this.store.name)}/draw/hand`, {});
        this.bare = said.panels[0] ? markRaw(said.panels[0]) : null;
      } catch {
        this.bare = null;
      }
      return undefined;
    },
    file(strokes) {
      return strokes.map((s) => s.map((p) => written(toFile(this.frame, p))));
    },
    body(strokes) {
      return { ...this.given(), way: this.field, [this.field]: this.file(strokes) };
    },
    given() {
      return this.work.way === "lines" && this.work.gap !== undefined ? { gap: this.work.gap } : {};
    },
    moved(index, stroke) {
      return this.field === "cuts" ? carried(this.saved, index, stroke) : carriedLines(this.saved, index, stroke, (this.store.view?.panels?.[0] ?? this.panel).outline);
    },
    /** A stroke is under way: show what would come of it. */
    drag(index, stroke) {
      if (index === null) return this.letGo();
      this.refused = null;
      const strokes = this.moved(index, stroke);
      this.led = markRaw(strokes);
      this.hand.attempt({ patchwork: this.body(strokes), cloths: this.seenCloths() }, this.panel.patches.length);
      return undefined;
    },
    letGo() {
      this.moving = null;
      this.led = null;
      this.hand.leave();
    },
    /** Cloths by letter as they are seen, so that no colour changes under the hand. */
    seenCloths() {
      return Object.fromEntries((this.store.view?.panels?.[0]?.patches ?? []).filter((p) => p.cloth).map((p) => [p.letter, p.cloth]));
    },
    /** A stroke has come to rest. Keys are quicker than the saving: what comes meanwhile of the same cut is saved as one step. */
    drop(index, stroke) {
      const last = this.resting.at(-1);
      if (last?.index === index) last.stroke = stroke;
      else this.resting.push({ index, stroke });
      this.moving = markRaw(this.moved(index, stroke));
      this.settling ??= this.rest().finally(() => (this.settling = this.store.pending = null));
      this.store.pending = this.settling;
      return this.settling;
    },
    /** Save one after the other what has come to rest. */
    async rest() {
      for (let row = this.resting.shift(); row; row = this.resting.shift()) {
        if (this.saved[row.index]) await this.put(t("did.moved", { n: row.index + 1 }), this.moved(row.index, row.stroke), this.field === "lines");
      }
    },
    /** A cut was drawn: it is chosen, and the tool stays for the next. One that was drawn while the last was being saved waits for it. */
    add(stroke) {
      this.adding = (this.adding ?? Promise.resolve()).catch(() => {}).then(() => {
        this.chosen = this.saved.length;
        return this.put(t("did.cut"), [...this.saved, stroke], this.field === "lines");
      });
      return this.adding;
    },
    /** Escape lets go of what is held; with nothing in the hand it puts the tool away. */
    key(event) {
      if (event.key !== "Escape" || event.defaultPrevented || document.querySelector("dialog[open]")) return;
      if (this.$refs.board?.letGo() || this.tool === "move") return;
      this.pick("move");
    },
    /** Take a cut away; what ended on it is drawn on. Where cuts would then cross each other they become lines. */
    async remove(index) {
      const what = t("did.removed", { n: index + 1 });
      const rim = sides(this.panel.outline);
      this.chosen = null;
      const ordered = this.field === "cuts";
      this.$nextTick(this.holdFocus);
      if (ordered && (await this.put(what, without(this.saved, index, rim, true), true, true))) return;
      await this.put(what, without(this.saved, index, rim, false), true, false, "lines");
    },
    /** On a narrow window the chosen cut's numbers lie below the board. */
    toNumbers() {
      const form = this.$refs.numbers.$el;
      form.querySelector("input").focus({ preventScroll: true });
      form.scrollIntoView({ block: "center" });
    },
    /** What had the focus went away with its cut: keys go on at the tool in the hand. */
    holdFocus() {
      if (document.activeElement === document.body) this.$refs.tools.querySelector('[aria-pressed="true"]')?.focus();
    },
    /**
     * Save strokes if they make pieces; with `carry` pieces and seams keep what they have where letters change.
     * Returns whether they do; with `quiet` nothing is said when they do not.
     * @param {string} what @param {any[]} strokes @param {boolean} carry @param {boolean} quiet @param {string | null} way
     */
    async put(what, strokes, carry, quiet = false, way = null) {
      this.refused = null;
      this.led = null;
      this.moving = markRaw(strokes);
      const patchwork = way && way !== this.field ? { way, [way]: this.file(strokes) } : this.body(strokes);
      this.hand.drop();
      const whole = this.store.view?.panels?.length > 0;
      try {
        const said = await ask(`${of(this.store.name)}/draw/hand`, { patchwork });
        const fault = said.panels.every((p) => p.order.drawn) ? null : said.findings?.find((f) => f.severity === "blocks");
        if (fault && whole) {
          this.letGo();
          if (!quiet) this.refused = fault;
          return false;
        }
        this.store.tried = markRaw({ ...this.store.view, ...said });
        const values = carry && whole ? await ask(`${of(this.store.name)}/draw/carry`, { patchwork }) : { patchwork };
        await this.save(what, values);
      } catch (error) {
        if (!(error instanceof Trouble) || error.status !== 0) this.fail(error);
        else await this.save(what, { patchwork }, carry && whole);
      }
      return true;
    },
    fail(error) {
      this.letGo();
      this.refused = error;
    },
    /** Save values of the panel together; with `carry` pieces and seams keep what they have. @param {string} what @param {Record<string, any>} values @param {boolean} carry */
    save(what, values, carry = false) {
      this.hand.drop();
      return this.store.edit(what, panelChanges(values, this.store.project.panel), carry);
    },
    /** Turn a drawing made by a rule, or taken from a file, into lines that hands can move. */
    async unbind() {
      try {
        await this.save(t("did.unbound"), await ask(`${of(this.store.name)}/draw/lines`, {}));
      } catch (error) {
        this.fail(error);
      }
    },
    previewLines(lines) {
      this.led = markRaw(lines);
      this.hand.attempt({ patchwork: { way: "lines", lines: this.file(lines) } });
    },
    async takeLines(lines) {
      try {
        this.hand.drop();
        await this.save(t("did.cured"), await ask(`${of(this.store.name)}/draw/lines`, { lines }));
      } catch (error) {
        this.fail(error);
      }
    },
    toggleKept(letter) {
      const piece = this.panel.patches.find((p) => p.letter === letter);
      const others = this.keptAt.filter((at) => !inside(piece.area, at));
      this.keptAt = others.length < this.keptAt.length ? others : [...this.keptAt, piece.at];
    },
    mark(place) {
      this.marks = this.marks.length > 1 ? [place] : [...this.marks, place];
    },
    lay(sheet, rest) {
      this.sheet = sheet;
      if (rest) this.$refs.takeIn?.keep(sheet);
    },
    pick(tool) {
      this.tool = tool;
      if (tool !== "mark") this.marks = [];
    },
  },
  template: `
  <section class="draw" v-if="panel" :aria-label="t('frame.draw')">
    <div class="draw-top" :style="{ '--room': room + 'px' }">
      <div ref="tools" class="draw-tools row" role="toolbar" :aria-label="t('draw.tools')">
        <button v-for="k in tools" :key="k" class="plain" :aria-pressed="tool === k" @click="pick(k)">{{ t("draw." + k) }}</button>
        <button v-if="!byHand" class="plain" @click="unbind">{{ t("draw.unbind") }}</button>
        <button v-if="sheet && sheet.shown" class="plain" :aria-pressed="tool === 'sketch'" @click="pick(tool === 'sketch' ? 'move' : 'sketch')">{{ t("draw.sketch.move") }}</button>
        <label v-if="byHand" class="beside"><input type="checkbox" v-model="snap">{{ t("draw.snap") }}</label>
        <span class="board-lens" role="group" :aria-label="t('draw.zoom')">
          <button class="plain" :aria-label="t('draw.zoom.in')" :title="t('draw.zoom.in')" @click="$refs.board.zoom(1.4)">+</button>
          <button class="plain" :aria-label="t('draw.zoom.out')" :title="t('draw.zoom.out')" :disabled="!near" @click="$refs.board.zoom(1 / 1.4)">−</button>
          <button class="plain lens-all" :disabled="!near" @click="$refs.board.showAll()">{{ t("draw.zoom.all") }}</button>
        </span>
        <div class="hints" :class="{ 'of-cut': cutChosen }"><p v-for="k in hints" :key="k" class="quiet hint" :class="{ shown: k === hint }">{{ t("draw." + k + ".hint") }}<span v-if="k === 'cut'" class="by-keys"> {{ t("draw.cut.keys") }}</span></p>
          <p v-if="cutChosen" class="row at-cut"><button class="plain" @click="remove(chosen)">{{ t("draw.remove") }}</button><button class="plain" @click="toNumbers">{{ t("draw.cut.numbers", { n: chosen + 1 }) }}</button></p></div>
      </div>
      <Board ref="board" :store="store" :panel="panel" :strokes="strokes" :led="led" :tool="tool" :snap="snap" :kept="kept" :sheet="sheet" :marks="marks" v-model:chosen="chosen" v-model:patch="patch"
        @drag="drag" @drop="drop" @add="add" @remove="remove" @mark="mark" @lay="lay" @near="near = $event" />
      <p v-if="refused" class="order-note blocked" role="alert"><span>{{ refused.message }}. {{ refused.cure }}</span></p>
      <OrderNote v-else :store="store" :panel="panel" :strokes="led ?? strokes" />
    </div>
    <div class="draw-forms">
      <DrawPanels :view="view" />
      <DrawCures :store="store" :panel="panel" :strokes="saved" :way="work.way" @look="previewLines" @leave="letGo" @take="takeLines" @mend="put($event.what, $event.strokes, true)" />
      <CutForm ref="numbers" v-if="cutChosen" :store="store" :strokes="strokes" :chosen="chosen" @drop="drop" @remove="remove" />
      <DrawPiece :store="store" :panel="panel" :patch="patch" :kept="kept" :by-hand="byHand" @add="add" @keep="toggleKept" @save="save" />
      <DrawOrder :store="store" :panel="panel" @save="save" @show="patch = $event" />
      <RuleForm :store="store" :panel="panel" :kept="kept" :hand="hand" @save="save" @looking="led = $event ? [] : null" />
      <MakeForm :store="store" />
      <OutlineForm v-if="ownOutline" :store="store" />
      <DrawTakeIn ref="takeIn" :store="store" :panel="panel" :marks="marks" :tool="tool" v-model:sheet="sheet" @save="save" @tool="pick" />
      <button class="plain draw-habits" aria-haspopup="dialog" @click="openHabits(store)">{{ t("set.title") }}</button>
    </div>
  </section>
  <div v-else-if="store.view" class="draw-forms draw-bare">
    <p class="sheet draw-none">{{ t(none) }}</p>
    <MakeForm :store="store" open />
    <OutlineForm v-if="ownOutline" :store="store" />
    <button class="plain draw-habits" aria-haspopup="dialog" @click="openHabits(store)">{{ t("set.title") }}</button>
  </div>`,
};
