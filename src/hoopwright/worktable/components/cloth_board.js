// The panel drawn large in its cloths and threads: a piece, a seam, its ground or what lies on it is chosen by pressing it.
import { nearestOn } from "/parts/geometry.js";
import { ClothDefs, paintOf } from "/parts/cloth_defs.js";
import { gathered } from "/parts/cloth_contrast.js";
import { meantBy } from "/parts/cloth_places.js";
import { LaidBoard } from "/parts/laid_board.js";
import { titleOf } from "/parts/laid_words.js";
import { t } from "/parts/texts.js";

const AROUND = 4; // mm of linen round the panel
const OVER = new Set(["lettering", "placed"]); // drawn one by one, so that they can be moved

export const ClothBoard = {
  components: { ClothDefs, LaidBoard },
  props: { store: Object, panel: Object, looks: Object, mode: String, letter: String, seam: Number, thing: Object, limits: Function, grey: Boolean, apart: String },
  emits: ["piece", "seam", "thing", "take-away"],
  data: () => ({ px: 0.25, others: [] }),
  mounted() {
    this.watcher = new ResizeObserver(() => (this.px = 1 / (this.$refs.board?.getScreenCTM()?.a || 4)));
    this.watcher.observe(this.$refs.board);
  },
  unmounted() {
    this.watcher.disconnect();
  },
  created() {
    // What else a press may have meant is of no use once something is chosen elsewhere; after a press it is set when this has run.
    this.$watch(() => [this.mode, this.seam, this.letter, this.thing], () => (this.others = []));
  },
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
    /** The drawing is never higher than the room for it, and takes no more room than it needs. */
    shape() {
      const [l, b, r, top] = this.bounds;
      return { aspectRatio: `${r - l + 2 * AROUND} / ${top - b + 2 * AROUND}` };
    },
    cloths() {
      return this.store.project.cloths;
    },
    threads() {
      return this.panel.stitches.filter((s) => !OVER.has(s.role)).map((s) => ({ colour: s.colour, d: s.runs.map(this.thread).join("") }));
    },
    /** What is pressed beside the drawing is ringed: places hard to tell apart, or that of a finding. */
    rings() {
      const group = gathered(this.panel.contrast).find((g) => g.key === this.apart);
      if (group) return group.rows.map((r) => r.at);
      const found = this.store.chosen;
      const at = found?.point ?? this.panel.patches.find((p) => p.letter === found?.patch)?.at;
      return at ? [at] : [];
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
    fill(p) {
      return paintOf("cloth", this.looks, p.cloth, p.colour);
    },
    pieceName(p) {
      return t("cloth.piece.name", { letter: p.letter, cloth: this.cloths[p.cloth]?.name ?? t("cloth.none") });
    },
    /** The likeliest of what was pressed is chosen; what else was near is offered. */
    press(event) {
      const matrix = this.$refs.board.getScreenCTM();
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
      const far = (s) => nearestOn([s.from, s.to], [p.x, -p.y]).far * matrix.a;
      const near = this.panel.seams.map((s) => ({ number: s.number, far: far(s) })).sort((a, b) => a.far - b.far)[0] ?? null;
      const under = document.elementsFromPoint(event.clientX, event.clientY);
      const data = (name) => under.map((e) => e.closest(`[data-${name}]`)?.dataset[name]).find(Boolean) ?? null;
      const found = meantBy({ mode: this.mode, by: event.pointerType, thing: data("thing"), letter: data("letter"), seam: near });
      if (this.mode === "laid" && !found.length) this.$emit("thing", null);
      if (found.length) this.choose(found[0]);
      this.$nextTick(() => (this.others = found.slice(1)));
    },
    choose({ kind, key }) {
      this.others = [];
      if (kind === "patch") this.$emit("piece", key);
      else if (kind === "seam") this.$emit("seam", key);
      else {
        const [group, number] = key.split(" ");
        this.$emit("thing", { kind: group, number: Number(number) });
      }
    },
    named({ kind, key }) {
      if (kind === "patch") return t("cloth.piece", { letter: key });
      if (kind === "seam") return t("cloth.seam.name", { n: key });
      const [group, number] = key.split(" ");
      return titleOf({ kind: group, number: Number(number) }, this.store.project.panel);
    },
    pressKey(event) {
      const key = event.target.closest("[data-thing]")?.dataset.thing;
      if (key) this.choose({ kind: "thing", key });
    },
    key(event, kind, value) {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      this.$emit(kind, value);
    },
  },
  template: `
  <div class="cloth-board linen">
    <svg ref="board" :viewBox="box" :style="shape" role="group" :aria-label="t('cloth.board')" @pointerdown="others = []" @click="press">
      <ClothDefs :name="store.name" :looks="looks" :cloths="cloths" prefix="cloth" />
      <defs><filter id="cloth-grey" color-interpolation-filters="linearRGB"><feColorMatrix type="saturate" values="0" /></filter></defs>
      <g :filter="grey ? 'url(#cloth-grey)' : null">
        <g v-for="p in panel.patches" :key="p.letter" :data-letter="p.letter" tabindex="0" role="button" :aria-label="pieceName(p)" :aria-pressed="letter === p.letter" class="cloth-patch" @keydown="key($event, 'piece', p.letter)">
          <path :d="d(p.area)" :fill="fill(p)" />
        </g>
        <g pointer-events="none"><path v-for="(s, i) in threads" :key="i" :d="s.d" :stroke="s.colour" class="cloth-thread" /></g>
      </g>
      <path :d="d(panel.outline)" class="cloth-outline" pointer-events="none" />
      <g v-if="mode === 'seam' && seam === 0" pointer-events="none" class="cloth-held"><path :d="d(panel.outline)" class="under" /><path :d="d(panel.outline)" class="over" /></g>
      <g v-for="s in panel.seams" :key="s.number" tabindex="0" role="button" :aria-label="t('cloth.seam.name', { n: s.number })" :aria-pressed="mode === 'seam' && seam === s.number" class="cloth-seam" :class="{ chosen: mode === 'seam' && seam === s.number }" @keydown="key($event, 'seam', s.number)">
        <line :x1="s.from[0]" :y1="-s.from[1]" :x2="s.to[0]" :y2="-s.to[1]" class="under" /><line :x1="s.from[0]" :y1="-s.from[1]" :x2="s.to[0]" :y2="-s.to[1]" class="over" />
      </g>
      <template v-for="p in panel.patches" :key="'h' + p.letter"><g v-if="letter === p.letter && mode !== 'seam' && mode !== 'laid'" pointer-events="none" class="cloth-held"><path :d="d(p.area)" class="under" /><path :d="d(p.area)" class="over" /></g></template>
      <g class="cloth-letters" :class="{ faint: mode === 'laid' }" pointer-events="none"><g v-for="p in panel.patches" :key="p.letter"><circle :cx="p.at[0]" :cy="-p.at[1]" r="3.4" /><text :x="p.at[0]" :y="-p.at[1] + 1.45">{{ p.letter }}</text></g></g>
      <LaidBoard :store="store" :panel="panel" :thing="mode === 'laid' ? thing : null" :active="mode === 'laid'" :limits="limits" :px="px" @take-away="$emit('take-away', $event)" @keydown.enter.stop.prevent="pressKey" @keydown.space.stop.prevent="pressKey" />
      <g class="cloth-marks" pointer-events="none">
        <g v-for="(c, i) in panel.contrast" :key="i" :class="c.way" :transform="'translate(' + c.at[0] + ' ' + -c.at[1] + ')'"><circle v-if="c.way === 'cloths'" r="2.9" /><rect v-else x="-2.5" y="-2.5" width="5" height="5" transform="rotate(45)" /><path d="M-1.5 -.5q.75 -.9 1.5 0t1.5 0M-1.5 .9q.75 -.9 1.5 0t1.5 0" /></g>
      </g>
      <circle v-for="(ring, i) in rings" :key="'r' + i" :cx="ring[0]" :cy="-ring[1]" r="5.5" class="cloth-ring" pointer-events="none" />
    </svg>
    <p v-if="others.length" class="cloth-rather"><button v-for="m in others" :key="m.kind + m.key" type="button" class="plain" @click="choose(m)">{{ t("cloth.rather", { what: named(m) }) }}</button></p>
  </div>`,
};
