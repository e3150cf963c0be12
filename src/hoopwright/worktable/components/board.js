// The drafting surface: pieces, numbers and cuts on linen; cuts are drawn, dragged and slid with pointer, touch or keys.
import { across, angleOf, between, distance, inside, nearestOn, sides, slid, snapTo, snapTurn } from "/parts/geometry.js";
import { length } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const AROUND = 14; // mm of linen round the panel
const REACH = 2.5; // mm within which an end is caught by a line
const TURN = 15; // degrees
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export const Board = {
  props: { store: Object, panel: Object, strokes: Array, tool: String, snap: Boolean, chosen: Number, patch: String },
  emits: ["drag", "drop", "add", "remove", "update:chosen", "update:patch"],
  data: () => ({ hold: null }),
  computed: {
    bounds() {
      const xs = this.panel.outline.map((p) => p[0]);
      const ys = this.panel.outline.map((p) => p[1]);
      return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
    },
    box() {
      const [l, b, r, top] = this.bounds;
      return `${l - AROUND} ${-top - AROUND} ${r - l + 2 * AROUND} ${top - b + 2 * AROUND}`;
    },
    units() {
      return this.store.project?.units ?? "mm";
    },
    sizes() {
      const [l, b, r, top] = this.bounds;
      return { wide: length(r - l, this.units), high: length(top - b, this.units) };
    },
    cloths() {
      return this.store.project?.cloths ?? {};
    },
    shown() {
      return this.strokes.map((s, i) => (this.hold?.index === i ? this.hold.stroke : s));
    },
    /** What an end can be caught by: the outline and all other cuts. */
    rails() {
      return (index) => [...sides(this.panel.outline), ...this.strokes.filter((_, i) => i !== index)];
    },
    ring() {
      const chosen = this.store.chosen;
      if (!chosen) return null;
      if (chosen.point) return chosen.point;
      const patch = this.panel.patches.find((p) => p.letter === chosen.patch);
      return patch ? patch.at : null;
    },
    grid() {
      const step = this.units === "in" ? 25.4 : 10;
      const [l, b, r, top] = this.bounds;
      const marks = [];
      for (let x = Math.ceil(l / step) * step; x <= r; x += step) marks.push({ x1: x, y1: -top - 5, x2: x, y2: -top - 2.5 });
      for (let y = Math.ceil(b / step) * step; y <= top; y += step) marks.push({ x1: l - 5, y1: -y, x2: l - 2.5, y2: -y });
      return marks;
    },
  },
  methods: {
    t,
    d(ring) {
      return "M" + ring.map(([x, y]) => `${x} ${-y}`).join("L") + "Z";
    },
    thread(run) {
      let text = "M";
      for (let i = 0; i < run.length; i += 2) text += `${i ? "L" : ""}${run[i] / 100} ${-run[i + 1] / 100}`;
      return text;
    },
    name(p) {
      const cloth = this.cloths[p.cloth]?.name ?? "";
      return p.number ? t("draw.patch.name", { letter: p.letter, number: p.number, cloth }) : t("draw.patch.stuck", { letter: p.letter, cloth });
    },
    strokeName(s, i) {
      return t("draw.stroke.name", { n: i + 1, length: length(distance(s[0], s[1]), this.units), angle: Math.round(angleOf(s)) });
    },
    at(event) {
      const matrix = this.$refs.board.getScreenCTM();
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
      return [p.x, -p.y];
    },
    /** The reach of a finger or pointer in mm. */
    reach(event) {
      const scale = this.$refs.board.getScreenCTM().a;
      return (event.pointerType === "touch" ? 22 : 10) / scale;
    },
    down(event) {
      if (event.button) return;
      const p = this.at(event);
      if (this.tool === "cut") {
        this.hold = { kind: "new", from: this.caught(-1, p, event), stroke: [p, p] };
      } else {
        this.hold = this.grasped(p, this.reach(event));
        this.$emit("update:chosen", this.hold ? this.hold.index : null);
        if (!this.hold) this.$emit("update:patch", this.panel.patches.find((q) => inside(q.area, p))?.letter ?? null);
      }
      if (this.hold) {
        this.$refs.board.setPointerCapture(event.pointerId);
        event.preventDefault();
      }
    },
    /** The cut under the hand: an end of it, or its middle. */
    grasped(p, reach) {
      let best = null;
      this.strokes.forEach((s, index) => {
        const near = nearestOn(s, p);
        const ends = s.map((e) => distance(e, p));
        const end = ends[0] <= ends[1] ? 0 : 1;
        const far = Math.min(near.far, ends[end]);
        if (far > reach || (best && best.far <= far)) return;
        best = { kind: ends[end] <= reach ? "end" : "slide", index, end, far, start: p, stroke: s, was: s };
      });
      return best;
    },
    caught(index, p, event) {
      if (!this.snap || event.altKey) return p;
      return snapTo(this.rails(index), p, REACH) ?? p;
    },
    move(event) {
      if (!this.hold) return;
      const p = this.at(event);
      const hold = this.hold;
      if (hold.kind === "new") {
        hold.stroke = [hold.from, this.aimed(hold.from, p, -1, event)];
        return;
      }
      if (hold.kind === "end") {
        const fixed = hold.was[1 - hold.end];
        const to = this.aimed(fixed, p, hold.index, event);
        hold.stroke = hold.end === 0 ? [to, fixed] : [fixed, to];
      } else {
        hold.stroke = slid(hold.was, [p[0] - hold.start[0], p[1] - hold.start[1]], this.rails(hold.index));
      }
      this.$emit("drag", hold.index, hold.stroke);
    },
    /** Where an end is meant to go: on a line that is near, at an even angle to its other end. */
    aimed(fixed, p, index, event) {
      if (!this.snap || event.altKey) return p;
      const turned = snapTurn(fixed, p, 0, TURN);
      const even = distance(turned, p) <= REACH ? turned : p;
      const rail = this.rails(index).map((r) => ({ r, far: nearestOn(r, even).far })).sort((a, b) => a.far - b.far)[0];
      if (!rail || rail.far > REACH) return even;
      return nearestOn(rail.r, even).at;
    },
    up() {
      const hold = this.hold;
      this.hold = null;
      if (!hold) return;
      if (hold.kind === "new") this.finish(hold.stroke);
      else if (hold.stroke !== hold.was) this.$emit("drop", hold.index, hold.stroke);
    },
    lost() {
      this.hold = null;
      this.store.settle();
    },
    /** A new cut runs right across the piece in which most of it was drawn. */
    finish(stroke) {
      if (distance(stroke[0], stroke[1]) < 4) return;
      const middle = between(stroke[0], stroke[1], 0.5);
      const piece = this.panel.patches.find((q) => inside(q.area, middle));
      const cut = piece ? across(piece.area, stroke, middle) : null;
      if (cut) this.$emit("add", cut);
    },
    key(event, index) {
      const by = ARROWS[event.key];
      if (event.key === "Delete" || event.key === "Backspace") {
        event.preventDefault();
        this.$emit("remove", index);
      } else if (by) {
        event.preventDefault();
        const far = event.shiftKey ? 0.1 : 1;
        const s = this.strokes[index];
        this.$emit("drop", index, slid(s, [by[0] * far, by[1] * far], this.rails(index)));
      } else if (event.key === "[" || event.key === "]") {
        event.preventDefault();
        this.$emit("drop", index, this.turned(index, event.key === "]" ? 1 : -1));
      }
    },
    /** A cut turned about its middle by so many degrees, still from rail to rail. */
    turned(index, degrees) {
      const [a, b] = this.strokes[index];
      const middle = between(a, b, 0.5);
      const angle = ((angleOf([a, b]) + degrees) * Math.PI) / 180;
      const far = [middle[0] + Math.cos(angle), middle[1] + Math.sin(angle)];
      const rails = this.rails(index);
      const ends = [a, b].map((end) => {
        const rail = rails.find((r) => nearestOn(r, end).far < 0.3);
        return rail ? across([rail[0], rail[1], rail[1]], [middle, far], middle)?.[0] ?? null : null;
      });
      const half = distance(a, b) / 2;
      const plain = [-half, half].map((r) => [middle[0] + Math.cos(angle) * r, middle[1] + Math.sin(angle) * r]);
      return [ends[0] ?? plain[0], ends[1] ?? plain[1]];
    },
    /** A level cut through the middle of a piece, for those who work with keys. */
    cutPatch(letter) {
      const piece = this.panel.patches.find((p) => p.letter === letter);
      const [x, y] = piece.at;
      const cut = across(piece.area, [[x, y], [x + 1, y]], [x, y]);
      if (cut) this.$emit("add", cut);
    },
    patchKey(event, letter) {
      if (event.key === "c" && !event.ctrlKey && !event.metaKey) this.cutPatch(letter);
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        this.$emit("update:patch", letter);
      }
    },
  },
  template: `
  <div class="board linen">
    <svg ref="board" :viewBox="box" role="group" :aria-label="t('draw.board')" :class="{ cutting: tool === 'cut' }"
      @pointerdown="down" @pointermove="move" @pointerup="up" @pointercancel="lost">
      <defs><pattern id="stuck" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="4" height="4" fill="none"/><line x1="0" y1="0" x2="0" y2="4" class="stuck-line"/></pattern></defs>
      <line v-for="(m, i) in grid" :key="'g' + i" v-bind="m" class="ruler" />
      <g class="pieces">
        <g v-for="p in panel.patches" :key="p.letter" tabindex="0" role="button" :aria-label="name(p)" :aria-pressed="patch === p.letter" @keydown="patchKey($event, p.letter)" @focus="$emit('update:patch', p.letter)">
          <path :d="d(p.area)" :fill="p.colour" class="piece" :class="{ held: patch === p.letter }" />
          <path v-if="p.stuck" :d="d(p.area)" fill="url(#stuck)" pointer-events="none" />
        </g>
      </g>
      <g class="threads" pointer-events="none"><template v-for="(s, i) in panel.stitches" :key="i"><path v-for="(r, k) in s.runs" :key="k" :d="thread(r)" :stroke="s.colour" /></template></g>
      <path :d="d(panel.outline)" class="outline" pointer-events="none" />
      <g v-for="(s, i) in shown" :key="'s' + i" class="stroke" :class="{ chosen: chosen === i }" tabindex="0" role="button" :aria-label="strokeName(s, i)" :aria-pressed="chosen === i"
        @focus="$emit('update:chosen', i)" @keydown="key($event, i)">
        <line :x1="s[0][0]" :y1="-s[0][1]" :x2="s[1][0]" :y2="-s[1][1]" class="reach" />
        <line :x1="s[0][0]" :y1="-s[0][1]" :x2="s[1][0]" :y2="-s[1][1]" class="cut" />
        <circle v-for="(e, k) in s" :key="k" :cx="e[0]" :cy="-e[1]" r="1.5" class="end" />
      </g>
      <line v-if="hold && hold.kind === 'new'" :x1="hold.stroke[0][0]" :y1="-hold.stroke[0][1]" :x2="hold.stroke[1][0]" :y2="-hold.stroke[1][1]" class="cut new" />
      <g class="names" pointer-events="none">
        <g v-for="p in panel.patches" :key="p.letter"><circle :cx="p.at[0]" :cy="-p.at[1]" r="4.2" class="plate" /><text :x="p.at[0]" :y="-p.at[1] + 1.7">{{ p.number ?? p.letter }}</text></g>
      </g>
      <circle v-if="ring" :cx="ring[0]" :cy="-ring[1]" r="6" class="here" pointer-events="none" />
      <text class="measure" :x="(bounds[0] + bounds[2]) / 2" :y="-bounds[3] - 7">{{ sizes.wide }}</text>
      <text class="measure" :transform="'translate(' + (bounds[0] - 7) + ' ' + -(bounds[1] + bounds[3]) / 2 + ') rotate(-90)'">{{ sizes.high }}</text>
    </svg>
  </div>`,
};
