// What lies on the panel, drawn at its place: pressed, dragged, turned and sized by hand or with keys. The drawing follows the hand at
// once; the plan follows when the hand rests, and the project when it lets go.
import { toRaw } from "vue";
import { grown, isSame, modelOf, putChanges, sizedBy, sizedTo, turnedTo, level, onBoard, writtenAt } from "/parts/laid.js";
import { toHoop } from "/parts/geometry.js";
import { t } from "/parts/texts.js";
import { titleOf } from "/parts/laid_words.js";

const REST_MS = 140; // how long a hand rests before the plan is asked
const NUDGE_MS = 700; // how long keys rest before what they did is saved
const SLACK = { mouse: 3, pen: 4, touch: 8 }; // pixels before a press becomes a drag
const STEM = 22; // pixels between a thing and its turning handle
const AROUND = 4; // mm of linen round the panel
const TOUCH = 22; // half of what a finger needs, in pixels

export const LaidBoard = {
  props: { store: Object, panel: Object, thing: Object, active: Boolean, limits: Function, px: Number },
  emits: ["take-away"],
  data: () => ({ held: null }),
  created() {
    this.rest = 0;
    this.nudge = 0;
    this.press = null;
    this.drawn = new WeakMap();
  },
  unmounted() {
    clearTimeout(this.rest);
    if (this.nudge) this.keep();
  },
  computed: {
    rows() {
      return this.panel.laid ?? [];
    },
    shown() {
      return this.rows.map((row) => {
        const mine = isSame(this.held, row) ? this.held : null;
        const base = mine?.row ?? row;
        const at = mine?.values.at ? toHoop(this.panel.frame, mine.values.at) : base.at;
        const turn = mine?.values.turn === undefined ? base.turn : mine.values.turn + this.panel.frame.turn;
        const scale = mine ? grown(base, mine.model, mine.values) : 1;
        const box = this.boxOf(base, mine, scale);
        return { row: base, key: `${row.kind} ${row.number}`, name: titleOf(row, this.store.project.panel), chosen: isSame(this.thing, row), at, turn, scale, box, move: `translate(${at[0]} ${-at[1]}) rotate(${-turn})` };
      });
    },
    order() {
      return [...this.shown].sort((a, b) => a.chosen - b.chosen);
    },
  },
  watch: {
    thing(now, before) {
      if (this.held && !isSame(now, before)) this.keep();
    },
  },
  methods: {
    t,
    /** Width and height as the hand has them. */
    boxOf(row, held, scale) {
      if (!held || row.kind !== "lettering") return [row.box[0] * scale, row.box[1] * scale];
      const width = held.values.width ?? row.box[0];
      return [width, held.values.height ?? row.box[1] * (held.model.height === null && held.model.capitals === null ? width / row.box[0] : 1)];
    },
    paths(row) {
      if (!this.drawn.has(row)) this.drawn.set(row, row.stitches.map((s) => ({ colour: s.colour, d: s.runs.map(lineOf).join("") })));
      return this.drawn.get(row);
    },
    hull: (row) => row.rings.map((ring) => "M" + ring.map(([x, y]) => `${x} ${-y}`).join("L") + "Z").join(""),
    frameOf: ([w, h]) => `M${-w / 2} ${-h / 2}H${w / 2}V${h / 2}H${-w / 2}Z`,
    place(event) {
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.$el.ownerSVGElement.getScreenCTM().inverse());
      return [p.x, -p.y];
    },
    down(event, what, one) {
      if (event.button || (!this.active && what === "move")) return;
      if (what !== "move") event.stopPropagation();
      const model = modelOf(this.store.project.panel, one.row);
      if (!model) return;
      if (this.nudge) this.keep();
      const from = this.place(event);
      this.press = { what, row: one.row, model, from, at: one.at, lower: this.isLower(one), screen: [event.clientX, event.clientY], slack: what === "move" ? SLACK[event.pointerType] ?? 3 : 0, moved: false };
      event.currentTarget.setPointerCapture(event.pointerId);
    },
    move(event) {
      const press = this.press;
      if (!press) return;
      if (!press.moved && Math.hypot(event.clientX - press.screen[0], event.clientY - press.screen[1]) < press.slack) return;
      press.moved = true;
      const to = this.place(event);
      this.hold(press.row, press.model, this.valuesOf(press, to, event.altKey));
    },
    valuesOf({ what, row, model, from, at, lower }, to, free) {
      if (what === "turn") return turnedTo(row, this.panel.frame, to, free, lower);
      if (what === "size") return sizedTo(row, model, to, this.limits(model));
      return this.movedTo([at[0] + to[0] - from[0], at[1] + to[1] - from[1]]);
    },
    movedTo(place) {
      return { at: writtenAt(this.panel.frame, onBoard(this.panel.outline, place)) };
    },
    up(event) {
      if (!this.press) return;
      const { moved } = this.press;
      this.press = null;
      if (!moved) return;
      event.stopPropagation();
      this.keep();
    },
    /** A finger on a thing moves it and not the page; browsers do not hear of that from the style of a drawing's parts. */
    still(event) {
      if (this.press && event.cancelable) event.preventDefault();
    },
    lost() {
      if (this.press?.moved) this.letGo();
      this.press = null;
    },
    hold(row, model, values) {
      const before = isSame(this.held, row) ? this.held : { kind: row.kind, number: row.number, row, model, values: {} };
      this.held = { ...before, values: { ...before.values, ...values } };
      clearTimeout(this.rest);
      this.rest = setTimeout(() => this.held && this.store.attempt(putChanges(this.held, this.held.values)), REST_MS);
    },
    /** Let it be as it was. */
    letGo() {
      clearTimeout(this.rest);
      clearTimeout(this.nudge);
      this.nudge = 0;
      this.held = null;
      this.press = null;
      this.store.settle();
    },
    async keep() {
      clearTimeout(this.rest);
      clearTimeout(this.nudge);
      this.nudge = 0;
      const held = this.held;
      if (!held) return;
      const what = held.values.at ? "moved" : held.values.turn !== undefined ? "turned" : "sized";
      await this.store.edit(t(`laid.did.${what}`, { what: titleOf(held, this.store.project.panel) }), putChanges(held, held.values));
      if (this.held === held) this.held = null;
    },
    key(event, one) {
      const model = modelOf(this.store.project.panel, one.row);
      if (!model || event.altKey || event.ctrlKey || event.metaKey) return;
      if (event.key === "Escape" && this.held) {
        event.stopPropagation();
        return this.letGo();
      }
      if (event.key === "Delete" || event.key === "Backspace") {
        event.preventDefault();
        return this.$emit("take-away", { kind: one.row.kind, number: one.row.number });
      }
      const values = this.keyed(event, one, model);
      if (!values) return;
      event.preventDefault();
      this.hold(one.row, this.held?.model ?? model, values);
      clearTimeout(this.nudge);
      this.nudge = setTimeout(() => this.keep(), NUDGE_MS);
    },
    keyed(event, one, model) {
      const held = isSame(this.held, one.row) ? this.held.values : {};
      const step = event.shiftKey ? 0.1 : 1;
      const way = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] }[event.key];
      if (way) return this.movedTo([one.at[0] + way[0], one.at[1] + way[1]]);
      const turn = held.turn ?? model.turn;
      if (event.key === "[" || event.key === "]") return { turn: level(turn + (event.key === "[" ? 1 : -1)) };
      if (["+", "=", "-"].includes(event.key)) return sizedBy(one.row, { ...model, ...held }, event.key === "-" ? -1 : 1, this.limits(model));
      return null;
    },
    blurred() {
      if (this.nudge) this.keep();
    },
    /** Whether the turning handle stands below, because there is no room for it above. */
    isLower({ at, turn, box }) {
      const far = box[1] / 2 + (STEM + 8) * this.px;
      const a = (turn * Math.PI) / 180;
      const place = [at[0] - Math.sin(a) * far, at[1] + Math.cos(a) * far];
      const [x, y] = onBoard(this.panel.outline, place);
      return Math.hypot(x - place[0], y - place[1]) > AROUND;
    },
    /** Where the handles stand, in the thing's own frame, y down as in the drawing. */
    handles(one) {
      const [w, h] = one.box;
      const side = this.isLower(one) ? 1 : -1;
      return { turn: [0, side * (h / 2 + STEM * this.px)], top: (side * h) / 2, size: [w / 2, h / 2], dot: 7 * this.px, reach: TOUCH * this.px };
    },
  },
  template: `
  <g class="laid" :class="{ active }" @touchmove="still">
    <g v-for="one in order" :key="one.key" :transform="one.move" :data-thing="one.key" class="laid-thing" :class="{ chosen: one.chosen, unsound: !one.row.sound }">
      <g role="button" tabindex="0" :aria-label="one.name" :aria-pressed="one.chosen" class="laid-body" @pointerdown="down($event, 'move', one)" @pointermove="move" @pointerup="up" @pointercancel="lost" @keydown="key($event, one)" @blur="blurred">
        <g :transform="'scale(' + one.scale + ')'"><path :d="hull(one.row)" fill-rule="nonzero" class="laid-hull" /><path v-for="(s, i) in paths(one.row)" :key="i" :d="s.d" :stroke="s.colour" class="laid-thread" /></g>
        <g class="laid-frame" :class="{ bare: !one.row.stitches.length }"><path :d="frameOf(one.box)" class="under" /><path :d="frameOf(one.box)" class="over" /></g>
      </g>
      <g v-if="active && one.chosen" class="laid-handles" aria-hidden="true">
        <line x1="0" :y1="handles(one).top" x2="0" :y2="handles(one).turn[1]" class="under" /><line x1="0" :y1="handles(one).top" x2="0" :y2="handles(one).turn[1]" class="over" />
        <g class="laid-handle" @pointerdown="down($event, 'turn', one)" @pointermove="move" @pointerup="up" @pointercancel="lost" @click.stop><circle cx="0" :cy="handles(one).turn[1]" :r="handles(one).reach" class="reach" /><circle cx="0" :cy="handles(one).turn[1]" :r="handles(one).dot" class="dot" /></g>
        <g class="laid-handle" @pointerdown="down($event, 'size', one)" @pointermove="move" @pointerup="up" @pointercancel="lost" @click.stop><circle :cx="handles(one).size[0]" :cy="handles(one).size[1]" :r="handles(one).reach" class="reach" /><rect :x="handles(one).size[0] - handles(one).dot" :y="handles(one).size[1] - handles(one).dot" :width="2 * handles(one).dot" :height="2 * handles(one).dot" class="dot" /></g>
      </g>
    </g>
  </g>`,
};

/** @param {number[]} reactive */
function lineOf(reactive) {
  const run = toRaw(reactive);
  let text = "M";
  for (let i = 0; i < run.length; i += 2) text += `${i ? "L" : ""}${run[i] / 100} ${-run[i + 1] / 100}`;
  return text;
}
