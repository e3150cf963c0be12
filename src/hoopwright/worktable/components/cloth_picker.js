// A grid of swatches to choose from: words narrow it, keys walk in it, what is under hand or eye is shown on the panel at once.
import { columnsOf, matching, peeking, stepped } from "/parts/cloth_picking.js";
import { led } from "/parts/pointing.js";
import { t, tn } from "/parts/texts.js";

const REST_MS = 90; // how long a pointer rests before the panel is asked

export const ClothPicker = {
  props: { rows: Array, kind: String, image: Function, size: Array, cloth: String, now: String, label: String },
  emits: ["show", "take", "leave"],
  data: () => ({ words: "", at: -1, on: false }),
  created() {
    this.resting = 0;
    this.at = this.found.findIndex((r) => r.name === this.now);
  },
  mounted() {
    // By finger the pictures come first: the field for words would bring up a keyboard over them.
    (matchMedia("(pointer: coarse)").matches ? this.$refs.grid : this.$refs.words).focus({ preventScroll: true });
    this.$el.scrollIntoView({ block: "nearest" });
    this.fit();
    this.reveal();
    this.watcher = new ResizeObserver(() => this.fit());
    this.watcher.observe(this.$el);
  },
  updated() {
    this.fit();
  },
  unmounted() {
    clearTimeout(this.resting);
    this.watcher.disconnect();
  },
  computed: {
    all() {
      return this.rows.map((r) => ({ name: r.name, title: t(`${this.kind}.${r.name}`), said: r.name === "none" ? t(`${this.kind}.none`) : `${t(`${this.kind}.${r.name}`)} ${r.title ?? ""} ${t(`${this.kind}.${r.name}.about`)}` }));
    },
    found() {
      return matching(this.all, this.words);
    },
    count() {
      return tn(`cloth.pick.count.${this.kind}`, this.found.length);
    },
    chosen() {
      return this.found[this.at] ?? null;
    },
    about() {
      const row = this.chosen;
      return row && row.name !== "none" ? t(`${this.kind}.${row.name}.about`) : "";
    },
  },
  methods: {
    t,
    id(name) {
      return `pick-${this.kind}-${name}`;
    },
    /** The grid ends in the middle of a row, where it goes on below. */
    fit() {
      const grid = this.$refs.grid;
      if (!grid?.children.length) return;
      const tops = [...grid.children].map((c) => c.offsetTop);
      grid.style.height = peeking(tops, grid.children[0].offsetHeight, parseFloat(getComputedStyle(grid).maxHeight)) ?? "auto";
      this.scrolled();
    },
    scrolled() {
      const grid = this.$refs.grid;
      if (grid) this.on = grid.scrollTop + grid.clientHeight < grid.scrollHeight - 8;
    },
    typed() {
      this.at = this.found.length && this.words ? 0 : this.found.findIndex((r) => r.name === this.now);
    },
    key(event) {
      const words = event.target === this.$refs.words;
      if (!words && event.target !== this.$refs.grid && event.key !== "Escape") return;
      if (words && ["ArrowLeft", "ArrowRight", "Home", "End"].includes(event.key)) return;
      if (event.key === "Enter" || (event.key === " " && !words)) {
        event.preventDefault();
        if (this.chosen) this.take(this.chosen.name);
      } else if (event.key === "Escape") {
        event.preventDefault();
        event.stopPropagation();
        this.$emit("leave");
      } else {
        const to = stepped(event.key, this.at, this.found.length, this.columns());
        if (to === null) return;
        event.preventDefault();
        this.go(to);
        if (words) this.$refs.grid.focus();
      }
    },
    columns() {
      return columnsOf([...this.$refs.grid.children].map((c) => c.offsetTop));
    },
    go(at) {
      this.at = at;
      this.$nextTick(this.reveal);
      this.show();
    },
    /** Let the grid show the chosen swatch; the page stays where it is. */
    reveal() {
      const grid = this.$refs.grid;
      const pick = grid?.children[this.at];
      if (!pick) return;
      if (pick.offsetTop < grid.scrollTop) grid.scrollTop = pick.offsetTop - 4;
      else if (pick.offsetTop + pick.offsetHeight > grid.scrollTop + grid.clientHeight) grid.scrollTop = pick.offsetTop + pick.offsetHeight - grid.clientHeight + 4;
    },
    over(at, event) {
      if (event.pointerType !== "mouse" || !led(event) || this.at === at) return;
      this.at = at;
      this.show();
    },
    show() {
      clearTimeout(this.resting);
      this.resting = setTimeout(() => this.chosen && this.$emit("show", this.chosen.name), REST_MS);
    },
    out(event) {
      if (event.pointerType !== "mouse") return;
      clearTimeout(this.resting);
      this.at = this.found.findIndex((r) => r.name === this.now);
      this.$emit("show", null);
    },
    take(name) {
      clearTimeout(this.resting);
      this.$emit("take", name);
    },
  },
  template: `
  <div class="picker" @keydown="key">
    <div class="picker-head"><label class="picker-words">{{ t("cloth.pick.words") }}<input ref="words" type="search" v-model="words" maxlength="60" autocomplete="off" @input="typed" :aria-controls="'pick-' + kind"></label>
      <button type="button" class="plain" @click="$emit('leave')">{{ t("cloth.pick.leave") }}</button></div>
    <p class="picker-count" aria-live="polite">{{ count }}<span v-if="on" aria-hidden="true">{{ t("cloth.pick.on") }}</span></p>
    <div class="picker-window" :class="{ on }">
    <div ref="grid" :id="'pick-' + kind" class="picker-grid" role="listbox" tabindex="0" :aria-label="label" :aria-activedescendant="chosen ? id(chosen.name) : null" @pointerleave="out" @scroll.passive="scrolled">
      <div v-for="(r, i) in found" :key="r.name" :id="id(r.name)" role="option" :aria-selected="r.name === now" class="pick" :class="{ at: i === at, kept: r.name === now }" @pointermove="over(i, $event)" @click="take(r.name)">
        <img v-if="r.name !== 'none'" :src="image(r.name)" alt="" loading="lazy" :width="size[0]" :height="size[1]"><span v-else class="pick-plain" :style="{ background: cloth }"></span>
        <span class="pick-name">{{ r.title }}</span>
      </div>
    </div>
    </div>
    <p v-if="!found.length" class="quiet">{{ t("cloth.pick.none") }}</p>
    <p class="picker-about quiet">{{ about }}</p>
  </div>`,
};
