// The order of sewing as a list: dragged, or moved with keys, it becomes the maker's own.
import { t } from "/parts/texts.js";

export const DrawOrder = {
  props: { store: Object, panel: Object },
  emits: ["save", "show"],
  data: () => ({ held: null, rows: [] }),
  computed: {
    sections() {
      return this.panel.order.sections;
    },
    own() {
      return this.store.project.panel.order;
    },
    /** The letters as they stand: the maker's own order even when it is refused. */
    letters() {
      return this.own ?? this.sections.flat().flatMap((m) => (m.length === 1 ? m : []));
    },
    shown() {
      return this.held ? this.rows : this.letters;
    },
    fixed() {
      return this.sections.length !== 1 && !this.own;
    },
    refusal() {
      const found = this.store.view?.findings ?? [];
      return found.find((f) => f.path === "panel.order" || f.path === "panel.first") ?? null;
    },
  },
  methods: {
    t,
    colour(letter) {
      return this.panel.patches.find((p) => p.letter === letter)?.colour ?? "transparent";
    },
    why(letter) {
      return this.panel.order.why.find(([l]) => l === letter)?.[1] ?? "";
    },
    put(rows) {
      if (rows.join() !== this.letters.join()) this.$emit("save", t("did.order"), { order: rows, first: null });
    },
    shift(i, by) {
      const rows = [...this.letters];
      const to = Math.min(rows.length - 1, Math.max(0, i + by));
      rows.splice(to, 0, ...rows.splice(i, 1));
      this.put(rows);
      this.$nextTick(() => this.$refs.list?.children[to]?.querySelector("button")?.focus());
    },
    key(event, i) {
      const by = { ArrowUp: -1, ArrowDown: 1 }[event.key];
      if (!by) return;
      event.preventDefault();
      this.shift(i, by);
    },
    down(event, letter) {
      if (event.button || this.fixed) return;
      this.rows = [...this.letters];
      this.held = letter;
      event.currentTarget.setPointerCapture(event.pointerId);
    },
    move(event) {
      if (!this.held) return;
      const middles = [...this.$refs.list.children].map((li) => li.getBoundingClientRect()).map((b) => b.top + b.height / 2);
      const from = this.rows.indexOf(this.held);
      let to = from;
      while (to > 0 && event.clientY < middles[to - 1]) to--;
      while (to < middles.length - 1 && event.clientY > middles[to + 1]) to++;
      if (to === from) return;
      const rows = [...this.rows];
      rows.splice(to, 0, ...rows.splice(from, 1));
      this.rows = rows;
    },
    up() {
      const rows = this.rows;
      if (!this.held) return;
      this.held = null;
      this.put(rows);
    },
    leave() {
      this.$emit("save", t("did.order.left"), { order: null, first: null });
    },
  },
  template: `
  <details v-if="letters.length > 1" class="sheet">
    <summary><h2>{{ t("draw.order") }}</h2></summary>
    <div class="stack">
      <p v-if="refusal" class="order-note blocked">{{ refusal.message }}. {{ refusal.cure }}</p>
      <p class="quiet">{{ t(fixed ? "draw.order.fixed" : "draw.order.hint") }}</p>
      <ol ref="list" class="draw-order" @pointermove="move" @pointerup="up" @pointercancel="held = null">
        <li v-for="(letter, i) in shown" :key="letter" :class="{ held: held === letter }">
          <button class="plain grip" :disabled="fixed" :aria-label="t('draw.order.row', { n: i + 1, letter })" :title="why(letter)" @pointerdown="down($event, letter)" @keydown="key($event, i)" @focus="$emit('show', letter)">
            <span class="place">{{ i + 1 }}</span><span class="chip" :style="{ background: colour(letter) }" aria-hidden="true"></span><span>{{ letter }}</span>
          </button>
          <button class="plain slim" :disabled="fixed || i === 0" :aria-label="t('draw.order.up', { letter })" @click="shift(i, -1)">↑</button>
          <button class="plain slim" :disabled="fixed || i === shown.length - 1" :aria-label="t('draw.order.down', { letter })" @click="shift(i, 1)">↓</button>
        </li>
      </ol>
      <button v-if="own || store.project.panel.first" class="plain" @click="leave">{{ t("draw.order.leave") }}</button>
    </div>
  </details>`,
};
