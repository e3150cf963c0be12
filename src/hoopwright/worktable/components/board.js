// The drafting surface: pieces, numbers and cuts on linen; cuts are drawn, dragged and slid with pointer, touch or keys.
import { markRaw } from "vue";
import { across, angleOf, between, distance, endMoved, inside, slid, snapTo } from "/parts/geometry.js";
import { all, fitted, moved, seenBy, zoomed } from "/parts/draw_camera.js";
import { aimed, broughtIn, grasped, railsOf, turned } from "/parts/draw_grasp.js";
import { lying } from "/parts/draw_sheet.js";
import { drawThreads } from "/parts/draw_threads.js";
import { decimal, length } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const MARGIN = 40; // pixels of linen round the panel
const CATCH = 9; // pixels within which an end is caught by a line
const FINGER = 24; // pixels of reach of a finger
const POINTER = 10;
const LEAST_CUT = 14; // pixels: a shorter stroke of the hand is a press
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

export const Board = {
  props: { store: Object, panel: Object, strokes: Array, led: Array, tool: String, snap: Boolean, chosen: Number, patch: String, kept: Array, sheet: Object, marks: Array },
  emits: ["drag", "drop", "add", "remove", "mark", "lay", "near", "update:chosen", "update:patch"],
  expose: ["zoom", "showAll", "letGo"],
  data: () => ({ hold: null, wide: 800, high: 500, camera: null }),
  created() {
    this.fingers = new Map();
  },
  mounted() {
    this.watcher = new ResizeObserver(() => this.measure());
    this.watcher.observe(this.$refs.glass);
    this.measure();
    drawThreads(this.$refs.threads, this.panel.stitches);
  },
  unmounted() {
    this.watcher.disconnect();
  },
  watch: {
    near(now) {
      this.$emit("near", now);
    },
    "panel.stitches"(rows) {
      drawThreads(this.$refs.threads, rows);
    },
  },
  computed: {
    bounds() {
      const xs = this.panel.outline.map((p) => p[0]);
      const ys = this.panel.outline.map((p) => p[1]);
      return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
    },
    whole() {
      return fitted(this.bounds, this.wide, this.high, MARGIN);
    },
    seen() {
      return seenBy(this.whole, this.camera ?? all(this.whole));
    },
    /** mm of a CSS pixel: letters and handles keep their size on the glass. */
    px() {
      return this.seen.mm;
    },
    box() {
      const s = this.seen;
      return `${s.left} ${s.top} ${s.width} ${s.height}`;
    },
    near() {
      return this.camera !== null && this.camera.near > 1.001;
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
      return (this.led ?? this.strokes).map((s, i) => (this.hold?.index === i ? this.hold.stroke : s));
    },
    held() {
      return this.hold && this.hold.stroke ? this.hold.stroke : null;
    },
    said() {
      const s = this.held;
      if (!s || distance(s[0], s[1]) < this.px) return null;
      const [x, y] = between(s[0], s[1], 0.5);
      return { x, y, text: `${length(distance(s[0], s[1]), this.units)}, ${decimal(angleOf(s))}°` };
    },
    /** Where the number of the chosen cut stands: beside its middle, away from the plate of its length. */
    tag() {
      const s = this.chosen === null ? null : this.shown[this.chosen];
      if (!s) return null;
      const long = distance(s[0], s[1]) || 1;
      const [x, y] = between(s[0], s[1], 0.32);
      const off = (20 * this.px * (s[1][0] >= s[0][0] ? 1 : -1)) / long;
      return { x: x + (s[1][1] - s[0][1]) * off, y: y - (s[1][0] - s[0][0]) * off };
    },
    ring() {
      const found = this.store.chosen;
      if (!found) return null;
      if (found.point) return found.point;
      return this.panel.patches.find((p) => p.letter === found.patch)?.at ?? null;
    },
    picked() {
      return this.panel.patches.find((p) => p.letter === this.patch) ?? null;
    },
    ruler() {
      const step = this.units === "in" ? 25.4 : 10;
      const [l, b, r, top] = this.bounds;
      const [far, close] = [8 * this.px, 3 * this.px];
      const rows = [];
      for (let x = Math.ceil(l / step) * step; x <= r; x += step) rows.push({ x1: x, y1: -top - far, x2: x, y2: -top - close });
      for (let y = Math.ceil(b / step) * step; y <= top; y += step) rows.push({ x1: l - far, y1: -y, x2: l - close, y2: -y });
      return rows;
    },
  },
  methods: {
    t,
    lying,
    measure() {
      const box = this.$refs.glass.getBoundingClientRect();
      if (box.width && box.height) [this.wide, this.high] = [box.width, box.height];
    },
    d(ring) {
      return "M" + ring.map(([x, y]) => `${x} ${-y}`).join("L") + "Z";
    },
    /** Whether a piece is large enough on the glass for number and letter. */
    roomy(p) {
      const xs = p.area.map((c) => c[0]);
      const ys = p.area.map((c) => c[1]);
      return Math.min(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) > 58 * this.px;
    },
    name(p) {
      const cloth = this.cloths[p.cloth]?.name ?? "";
      const kept = this.kept?.includes(p.letter) ? `, ${t("draw.kept")}` : "";
      return (p.number ? t("draw.patch.name", { letter: p.letter, number: p.number, cloth }) : t("draw.patch.stuck", { letter: p.letter, cloth })) + kept;
    },
    strokeName(s, i) {
      return t("draw.stroke.name", { n: i + 1, length: length(distance(s[0], s[1]), this.units), angle: Math.round(angleOf(s)) });
    },
    endName(s, i, k) {
      return t(k ? "draw.end.to" : "draw.end.from", { n: i + 1, x: length(s[k][0], this.units), y: length(s[k][1], this.units) });
    },
    at(event) {
      const box = this.$refs.glass.getBoundingClientRect();
      const s = this.seen;
      return [s.left + ((event.clientX - box.left) / box.width) * s.width, -(s.top + ((event.clientY - box.top) / box.height) * s.height)];
    },
    rails(index) {
      return railsOf(this.panel.outline, this.strokes, index);
    },
    free(event) {
      return !this.snap || event.altKey;
    },
    down(event) {
      if (event.button) return;
      this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
      if (this.fingers.size === 2) return this.pinch();
      if (this.fingers.size > 2) return undefined;
      const p = this.at(event);
      const reach = (event.pointerType === "touch" ? FINGER : POINTER) * this.px;
      this.hold = markRaw(this.taken(event, p, reach));
      this.$refs.glass.setPointerCapture(event.pointerId);
      event.preventDefault();
      return undefined;
    },
    /** What a press takes hold of. */
    taken(event, p, reach) {
      if (this.tool === "mark") return { kind: "mark", at: p };
      if (this.tool === "sketch" && this.sheet) return { kind: "sheet", start: p, sheet: this.sheet };
      if (this.tool === "cut") {
        const from = this.free(event) ? p : snapTo(this.rails(-1), p, reach) ?? p;
        return { kind: "new", from, stroke: [from, from] };
      }
      const found = this.tool === "move" ? grasped(this.strokes, p, reach, this.chosen) : null;
      this.$emit("update:chosen", found ? found.index : null);
      if (found) {
        this.$nextTick(() => this.hear(found));
        return found;
      }
      const piece = this.panel.patches.find((q) => inside(q.area, p));
      this.$emit("update:patch", piece?.letter ?? null);
      return { kind: "pan", last: [event.clientX, event.clientY] };
    },
    /** Keys reach what was pressed: an end, or the whole cut. */
    hear({ index, end }) {
      const cut = this.$el.querySelector(`[data-cut="${index}"]`);
      (end === undefined ? cut : (cut?.querySelectorAll(".end")[end] ?? cut))?.focus({ preventScroll: true });
    },
    /** Two fingers: what one of them held is let go, both zoom and move the drawing. */
    pinch() {
      if (this.hold?.index !== undefined) this.$emit("drag", null, null);
      this.hold = markRaw({ kind: "pinch", was: this.spread() });
    },
    spread() {
      const [a, b] = [...this.fingers.values()];
      return { far: Math.hypot(a[0] - b[0], a[1] - b[1]), x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2 };
    },
    move(event) {
      if (!this.fingers.has(event.pointerId)) return;
      this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
      const hold = this.hold;
      if (!hold) return;
      if (hold.kind === "pinch") return this.pinched(hold);
      if (hold.kind === "pan") return this.panned(hold, event);
      const p = this.at(event);
      if (hold.kind === "sheet") return this.$emit("lay", { ...hold.sheet, x: hold.sheet.x + p[0] - hold.start[0], y: hold.sheet.y + p[1] - hold.start[1] }, false);
      if (hold.kind === "mark") return undefined;
      this.hold = markRaw({ ...hold, stroke: this.guided(hold, p, event) });
      if (hold.kind !== "new") this.$emit("drag", hold.index, this.hold.stroke);
      return undefined;
    },
    /** The stroke as the hand leads it. */
    guided(hold, p, event) {
      const reach = CATCH * this.px;
      if (hold.kind === "slide") return slid(hold.was, [p[0] - hold.start[0], p[1] - hold.start[1]], this.rails(hold.index));
      const fixed = hold.kind === "new" ? hold.from : hold.was[1 - hold.end];
      const at = this.free(event) ? p : aimed(fixed, p, this.rails(hold.kind === "new" ? -1 : hold.index), reach);
      const to = this.free(event) || hold.kind === "new" ? at : broughtIn(fixed, at, this.panel.outline);
      return hold.kind === "end" && hold.end === 0 ? [to, fixed] : [fixed, to];
    },
    pinched(hold) {
      const now = this.spread();
      const box = this.$refs.glass.getBoundingClientRect();
      const at = this.at({ clientX: now.x, clientY: now.y });
      let camera = zoomed(this.whole, this.camera ?? all(this.whole), now.far / Math.max(1, hold.was.far), at);
      const mm = this.whole.mm / camera.near;
      camera = moved(this.whole, camera, [(hold.was.x - now.x) * mm, (now.y - hold.was.y) * mm]);
      this.camera = box.width ? camera : null;
      this.hold = markRaw({ kind: "pinch", was: now });
    },
    panned(hold, event) {
      if (!this.near) return;
      const by = [(hold.last[0] - event.clientX) * this.px, (event.clientY - hold.last[1]) * this.px];
      this.camera = moved(this.whole, this.camera, by);
      this.hold = markRaw({ kind: "pan", last: [event.clientX, event.clientY] });
    },
    up(event) {
      this.fingers.delete(event.pointerId);
      const hold = this.hold;
      this.hold = null;
      if (!hold) return;
      if (hold.kind === "new") this.finish(hold.stroke);
      else if (hold.kind === "mark") this.$emit("mark", hold.at);
      else if (hold.kind === "sheet") this.$emit("lay", this.sheet, true);
      else if (hold.index !== undefined && hold.stroke !== hold.was) this.$emit("drop", hold.index, hold.stroke);
    },
    /** Let go of what is held, as if it had never been taken. Returns whether anything was. */
    letGo() {
      const hold = this.hold;
      if (!hold?.stroke) return false;
      this.hold = null;
      if (hold.index !== undefined) this.$emit("drag", null, null);
      return true;
    },
    lost(event) {
      this.fingers.delete(event.pointerId);
      if (this.hold?.index !== undefined) this.$emit("drag", null, null);
      this.hold = null;
    },
    wheel(event) {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY / 300), this.at(event));
    },
    showAll() {
      this.camera = null;
    },
    zoom(by, at = null) {
      const camera = this.camera ?? all(this.whole);
      const next = zoomed(this.whole, camera, by, at ?? [camera.x, camera.y]);
      this.camera = next.near > 1.001 ? next : null;
    },
    /** A new cut runs right across the piece in which most of it was drawn. */
    finish(stroke) {
      if (distance(stroke[0], stroke[1]) < LEAST_CUT * this.px) {
        this.$emit("update:patch", this.panel.patches.find((q) => inside(q.area, stroke[0]))?.letter ?? null);
        return;
      }
      const middle = between(stroke[0], stroke[1], 0.5);
      const piece = this.panel.patches.find((q) => inside(q.area, middle));
      const cut = piece ? across(piece.area, stroke, middle) : null;
      if (cut) this.$emit("add", cut);
    },
    key(event, index) {
      const by = ARROWS[event.key];
      const step = event.shiftKey ? 0.1 : 1;
      if (event.key === "Delete" || event.key === "Backspace") this.$emit("remove", index);
      else if (by) this.$emit("drop", index, slid(this.strokes[index], [by[0] * step, by[1] * step], this.rails(index)));
      else if (event.key === "[" || event.key === "]") this.$emit("drop", index, turned(this.strokes[index], event.key === "]" ? 1 : -1, this.rails(index)));
      else return;
      event.preventDefault();
    },
    endKey(event, index, end) {
      const by = ARROWS[event.key];
      if (!by) return;
      const step = event.shiftKey ? 0.1 : 1;
      this.$emit("drop", index, endMoved(this.strokes[index], end, [by[0] * step, by[1] * step], this.rails(index)));
      event.preventDefault();
      event.stopPropagation();
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
      else if (event.key === "Enter" || event.key === " ") this.$emit("update:patch", letter);
      else return;
      event.preventDefault();
    },
    glassKey(event) {
      if (event.key === "+") this.zoom(1.4);
      if (event.key === "-") this.zoom(1 / 1.4);
      if (event.key === "0") this.camera = null;
    },
  },
  template: `
  <div class="board linen" @keydown="glassKey">
    <svg ref="glass" :viewBox="box" role="group" :aria-label="t('draw.board')" :class="[tool, { tracing: sheet && sheet.shown, busy: hold && hold.stroke }]"
      @pointerdown="down" @pointermove="move" @pointerup="up" @pointercancel="lost" @wheel="wheel">
      <defs><pattern id="stuck" :width="9 * px" :height="9 * px" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect :width="4 * px" :height="9 * px" class="stuck-line" /></pattern></defs>
      <image v-if="sheet && sheet.shown" :href="sheet.address" :width="sheet.width" :height="sheet.height" :transform="lying(sheet)" :opacity="sheet.seen" preserveAspectRatio="none" />
      <line v-for="(m, i) in ruler" :key="'g' + i" v-bind="m" class="ruler" />
      <g class="pieces">
        <g v-for="p in panel.patches" :key="p.letter" v-memo="[p.area, p.colour, p.number, p.stuck, p.cloth, patch === p.letter, kept && kept.includes(p.letter)]" tabindex="0" role="button" :data-piece="p.letter" :aria-label="name(p)" :aria-pressed="patch === p.letter" @keydown="patchKey($event, p.letter)" @focus="$emit('update:patch', p.letter)">
          <path :d="d(p.area)" :fill="p.colour" class="piece" />
          <path v-if="p.stuck" :d="d(p.area)" fill="url(#stuck)" class="shade" pointer-events="none" />
        </g>
      </g>
      <g ref="threads" class="threads" pointer-events="none"></g>
      <path :d="d(panel.outline)" class="outline" pointer-events="none" />
      <g v-if="picked" pointer-events="none"><path :d="d(picked.area)" class="picked under" /><path :d="d(picked.area)" class="picked" /></g>
      <g class="names" pointer-events="none">
        <g v-for="p in panel.patches" :key="p.letter" :transform="'translate(' + p.at[0] + ' ' + -p.at[1] + ') scale(' + px + ')'">
          <template v-if="p.number && roomy(p)"><rect x="-23" y="-14" width="46" height="28" rx="14" class="plate" /><text x="-9" y="6" class="number">{{ p.number }}</text><text x="10" y="5" class="letter">{{ p.letter }}</text></template>
          <template v-else><circle r="12" class="plate" /><text y="5.5" class="number" :class="{ small: !p.number }">{{ p.number || p.letter }}</text></template>
          <g v-if="kept && kept.includes(p.letter)" transform="translate(0 -27)"><circle r="12" class="plate" /><path d="M-3.5 -1v-3a3.5 3.5 0 0 1 7 0v3M-5 -1h10v7h-10z" class="lock" /></g>
        </g>
      </g>
      <g v-for="(s, i) in shown" :key="'s' + i" class="stroke" :class="{ chosen: chosen === i }">
        <g tabindex="0" role="button" :data-cut="i" :aria-label="strokeName(s, i)" :aria-pressed="chosen === i" @focus="$emit('update:chosen', i)" @keydown="key($event, i)">
          <line :x1="s[0][0]" :y1="-s[0][1]" :x2="s[1][0]" :y2="-s[1][1]" class="reach" />
          <line :x1="s[0][0]" :y1="-s[0][1]" :x2="s[1][0]" :y2="-s[1][1]" class="under" />
          <line :x1="s[0][0]" :y1="-s[0][1]" :x2="s[1][0]" :y2="-s[1][1]" class="cut" />
        </g>
        <circle v-for="(e, k) in s" :key="k" :cx="e[0]" :cy="-e[1]" :r="(chosen === i && tool !== 'cut' ? 8 : 5) * px" class="end" :tabindex="chosen === i ? 0 : -1" role="button" :aria-label="endName(s, i, k)" @keydown="endKey($event, i, k)" />
      </g>
      <line v-if="hold && hold.kind === 'new'" :x1="hold.stroke[0][0]" :y1="-hold.stroke[0][1]" :x2="hold.stroke[1][0]" :y2="-hold.stroke[1][1]" class="cut new" />
      <g v-if="tag" class="cut-tag" :transform="'translate(' + tag.x + ' ' + -tag.y + ') scale(' + px + ')'" pointer-events="none" aria-hidden="true"><rect x="-15" y="-12" width="30" height="24" rx="4" class="plate" /><text y="5.5">{{ chosen + 1 }}</text></g>
      <g v-if="said" class="said-length" :transform="'translate(' + said.x + ' ' + -said.y + ') scale(' + px + ')'" pointer-events="none"><rect x="-56" y="-38" width="112" height="24" rx="6" class="plate" /><text y="-21">{{ said.text }}</text></g>
      <circle v-for="(m, i) in marks" :key="'m' + i" :cx="m[0]" :cy="-m[1]" :r="7 * px" class="mark-point" pointer-events="none" />
      <circle v-if="ring" :cx="ring[0]" :cy="-ring[1]" :r="20 * px" class="here" pointer-events="none" />
      <text class="measure" :transform="'translate(' + (bounds[0] + bounds[2]) / 2 + ' ' + (-bounds[3] - 14 * px) + ') scale(' + px + ')'">{{ sizes.wide }}</text>
      <text class="measure" :transform="'translate(' + (bounds[0] - 14 * px) + ' ' + -(bounds[1] + bounds[3]) / 2 + ') rotate(-90) scale(' + px + ')'">{{ sizes.high }}</text>
    </svg>
  </div>`,
};
