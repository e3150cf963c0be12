// See it sewn: the hoop with the work in it, the sentence of the present moment, and the run sheet beside it.
import { markRaw } from "vue";
import { Painter } from "/parts/player_canvas.js";
import { holesChart, thicknessChart } from "/parts/sew_charts.js";
import { Player } from "/parts/player.js";
import { Prints } from "/parts/player_prints.js";
import { halts, otherHalt, placeOf, sizeOf, stepped, TEMPOS, valueOf } from "/parts/player_timing.js";
import { nearer } from "/parts/sew_nearer.js";
import { found, fromWindow, keepInWindow, kept, ways } from "/parts/sew_kept.js";
import { SewList, workOf } from "/parts/sew_list.js";
import { ask, of, Trouble } from "/parts/ask.js";
import { t, texts, tn } from "/parts/texts.js";

const KEYS = ["space", "arrows", "page", "ends", "zoom", "side"];
const SHOW_STATE_MS = 120;
const LONGEST_FRAME = 0.1; // seconds: a page that was hidden does not jump
/** Blocks that are sewn to be seen: they catch whatever lies below, and its outlines would only hide them. */
const SEEN = new Set(["seam stitch", "ground", "lettering", "placed stitches", "accent", "edge satin", "outline"]);
const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

export const Sew = {
  components: { SewList },
  mixins: [nearer],
  props: { store: Object },
  data: () => ({
    state: "loading", // loading, empty, trouble, ready
    trouble: null,
    at: 0,
    stitch: 0,
    playing: false,
    tempo: "ten",
    waits: false,
    side: "top",
    chart: "none",
    marks: true,
    marksSeen: false, // the same for blocks that are sewn to be seen
    legend: [],
    round: 0, // counts the times the sheets were loaded
    keys: KEYS,
    tempos: TEMPOS.map((row) => row.name),
  }),
  created() {
    this.player = new Player(this.store.name, (what) => this.heard(what));
    this.player.tempo = TEMPOS[1];
    this.charts = new Map();
    this.kept = fromWindow(this.store.name);
    Object.assign(this, ways(this.kept));
  },
  mounted() {
    this.painter = new Painter(this.$refs.work, this.$refs.over);
    this.watchSize = new ResizeObserver(() => this.fit());
    this.watchSize.observe(this.$refs.hoop);
    this.lights = new MutationObserver(() => this.tint());
    this.lights.observe(document.documentElement, { attributes: true, attributeFilter: ["data-light"] });
    window.addEventListener("keydown", this.key);
    this.$watch(() => texts.language, this.load);
    window.addEventListener("pagehide", this.keep);
    if (this.side !== "top") this.painter.fresh({ side: this.side });
    this.last = 0;
    this.frame = requestAnimationFrame(this.each);
    this.load();
  },
  unmounted() {
    this.keep();
    window.removeEventListener("pagehide", this.keep);
    cancelAnimationFrame(this.frame);
    this.watchSize.disconnect();
    this.lights.disconnect();
    window.removeEventListener("keydown", this.key);
  },
  computed: {
    moments() {
      return this.round ? markRaw(this.player.moments) : [];
    },
    sheets() {
      return this.round ? markRaw(this.player.sheets) : [];
    },
    moment() {
      return this.moments[this.at] ?? null;
    },
    sheet() {
      return this.moment ? this.sheets[this.moment.hooping] : null;
    },
    total() {
      return this.round ? this.player.bar.total : 1;
    },
    heading() {
      const m = this.moment;
      if (!m) return "";
      if (m.kind === "hand") return workOf(m, this.sheet.names);
      return t("sew.block", { n: m.number, thread: m.thread });
    },
    counted() {
      const m = this.moment;
      return m?.kind === "sew" ? t("sew.stitches", { n: this.stitch.toLocaleString(texts.language), of: m.count.toLocaleString(texts.language) }) : t("sew.by.hand");
    },
    /** Whether what the present block catches is outlined; asked for apart for blocks that are sewn to be seen. */
    outlined: {
      get() {
        return SEEN.has(this.moment?.role) ? this.marksSeen : this.marks;
      },
      set(on) {
        if (SEEN.has(this.moment?.role)) this.marksSeen = on;
        else this.marks = on;
      },
    },
    caught() {
      const m = this.moment;
      if (m?.kind !== "sew") return null;
      const names = m.catches.map(([piece]) => this.sheet.names[piece]).filter((n) => !n.foundation);
      return names.map((n) => (n.patch ? t("sew.piece.patch", { sign: n.sign }) : n.sign));
    },
    haltMarks() {
      if (!this.round) return [];
      const bar = this.player.bar;
      return this.moments.map((_, at) => at).filter((at) => halts(this.moments, at)).map((at) => (100 * bar.starts[at]) / bar.total);
    },
    hoopStarts() {
      if (!this.round || this.sheets.length < 2) return [];
      const bar = this.player.bar;
      return this.moments.map((m, at) => at).filter((at) => at && this.moments[at].hooping !== this.moments[at - 1].hooping).map((at) => (100 * bar.starts[at]) / bar.total);
    },
  },
  watch: {
    "store.version"(now) {
      if (this.player.version !== now) this.load();
    },
    "store.chosen"() {
      this.showFinding();
    },
    tempo(name) {
      this.player.tempo = TEMPOS.find((row) => row.name === name);
    },
    waits(on) {
      this.player.waits = on;
    },
    side(side) {
      this.painter.fresh({ side });
      this.dirty = true;
    },
    outlined() {
      this.dirty = true;
    },
    chart() {
      this.showChart();
    },
  },
  methods: {
    t,
    tn,
    async load() {
      if (this.loading) return (this.again = true);
      this.loading = true;
      try {
        const [{ looks }] = await Promise.all([this.looks(), this.player.load()]);
        this.charts.clear();
        this.painter.fresh({ sheet: null, prints: new Prints(this.store.name, looks, () => this.printed()) });
        this.round += 1;
        if (this.round === 1 && this.kept?.place && this.player.moments.length) this.player.go(found(this.player.moments, this.player.sheets, this.kept.place));
        this.state = this.player.moments.length ? "ready" : "empty";
        this.trouble = null;
        if (this.state === "ready") this.heard("moment");
        if (this.round === 1 && (history.state?.found || !this.kept?.place)) this.showFinding(); // a finding led here; else the place that was kept holds
      } catch (error) {
        if (!(error instanceof Trouble)) throw error;
        if (error.status === 409) this.again = true;
        else this.trouble = error.status ? error : { message: t("trouble.offline"), cure: t("sew.offline.cure") };
        if (this.state === "loading") this.state = "trouble";
      } finally {
        this.loading = false;
        this.dirty = true;
        this.tint();
        this.$nextTick(() => this.fit());
      }
      if (this.again) {
        this.again = false;
        await this.load();
      }
    },
    /** How the cloths look; without an answer they are plain. */
    looks() {
      return ask(`${of(this.store.name)}/cloth`).catch(() => ({ looks: {} }));
    },
    /** A photograph has come. */
    printed() {
      this.painter.fresh();
      this.dirty = true;
    },
    /** Keep in this window where the player is. */
    keep() {
      if (this.state !== "ready") return;
      const place = kept(this.player.moments, this.player.sheets, this.player.place);
      keepInWindow(this.store.name, { ...ways(this), place });
    },
    /** A finding was pressed: go to its block, with all of it sewn, and show its place. */
    showFinding() {
      this.dirty = true;
      const row = this.store.chosen;
      if (this.state !== "ready" || !row?.step) return;
      const { moments, sheets } = this.player;
      const there = moments.flatMap((m, at) => (m.number === row.step && (!row.hooping || sheets[m.hooping].key === row.hooping) ? [at] : []));
      const at = there.find((k) => moments[k].kind === "sew") ?? there[0];
      if (at === undefined) return;
      this.player.play(false);
      this.player.go({ at, part: sizeOf(moments[at]) });
      this.heard("state");
    },
    /** The player has come to another moment, or began or stopped. */
    heard(what) {
      this.at = this.player.place.at;
      this.playing = this.player.playing;
      this.player.still = still();
      if (what === "moment") this.showChart();
      this.stitch = Math.min(this.player.moment.count ?? 0, Math.floor(this.player.place.part));
      this.dirty = true;
    },
    fit() {
      const box = this.$refs.hoop?.getBoundingClientRect();
      if (!box || !box.width) return;
      if (this.painter.resize(box.width, box.height, Math.min(3, window.devicePixelRatio || 1))) this.dirty = true;
    },
    tint() {
      const style = getComputedStyle(this.$refs.hoop);
      this.painter.fresh({ tints: { hoop: style.getPropertyValue("--hoop").trim() || "#b9a98c" } });
      this.dirty = true;
    },
    /** Every frame: move on, draw what is new. */
    each(now) {
      this.frame = requestAnimationFrame(this.each);
      const seconds = Math.min(LONGEST_FRAME, (now - this.last) / 1000);
      this.last = now;
      if (this.state !== "ready") return;
      if (this.player.tick(seconds)) this.dirty = true;
      if (!this.dirty) return;
      this.dirty = false;
      this.draw();
      if (this.$refs.bar && !this.holding) this.$refs.bar.value = valueOf(this.player.bar, this.player.moments, this.player.place);
      if (now - (this.said ?? 0) > SHOW_STATE_MS || !this.player.playing) {
        this.said = now;
        this.stitch = Math.min(this.player.moment.count ?? 0, Math.floor(this.player.place.part));
      }
    },
    draw() {
      const { player, painter } = this;
      const m = player.moment;
      if (painter.sheet !== player.sheet) painter.fresh({ sheet: player.sheet });
      const phase = m.kind === "hand" ? player.place.part : 1;
      const settled = player.still ? phase >= 0.35 : phase >= 1;
      if (settled || (phase === 0 && !player.gliding)) painter.paint(settled ? m.lies : player.before, player.sewn);
      else if (player.still) painter.paint(player.before, player.sewn);
      else painter.change(m, player.before, player.sewn, phase);
      const chart = this.chart === "none" ? null : this.charts.get(this.chartKey())?.paint ?? null;
      painter.overlay({ hooped: m.hooped, ...this.pointed(m), chart, needle: player.needle() });
    },
    /** What is pointed at: pieces that a seam catches, a piece laid on the other side, what is cut off, the place of a finding. */
    pointed(m) {
      const outlines = [];
      if (m.kind === "sew" && this.outlined) {
        for (const [piece, shape] of m.catches) if (!this.player.sheet.names[piece].foundation) outlines.push(shape);
      }
      if (m.laid && m.laid.side !== this.side) outlines.push(m.laid.shape);
      const row = this.store.chosen;
      const here = row?.step && row.point && (!row.hooping || row.hooping === this.player.sheet.key);
      return { outlines, cuts: m.cut ?? [], ring: here ? row.point : null };
    },

    chartKey() {
      const m = this.player.moment;
      return this.chart === "holes" ? `holes ${m.hooping}` : `thick ${m.hooping} ${m.lies}`;
    },
    /** Fetch the map for the present moment, once. */
    async showChart() {
      this.dirty = true;
      if (this.chart === "none" || !this.player.moments.length) return (this.legend = []);
      const key = this.chartKey();
      if (!this.charts.has(key)) {
        const at = this.player.place.at - this.player.moments.findIndex((m) => m.hooping === this.player.moment.hooping);
        this.charts.set(key, null);
        try {
          this.charts.set(key, this.chart === "holes" ? await holesChart(this.player.sheet) : await thicknessChart(this.player.sheet, at));
        } catch (error) {
          this.charts.delete(key);
          if (!(error instanceof Trouble)) throw error;
          if (error.status === 409) return this.load();
        }
      }
      if (this.chart === "none" || key !== this.chartKey()) return;
      const found = this.charts.get(key);
      if (found) this.legend = found.legend();
      this.dirty = true;
    },
    play(on = !this.player.playing) {
      if (this.state === "ready") this.player.play(on);
    },
    jump(at) {
      this.player.jump(at);
      const box = this.$refs.hoop.getBoundingClientRect();
      if (box.top < 0 || box.bottom > window.innerHeight) this.$el.scrollIntoView({ block: "start", behavior: still() ? "auto" : "smooth" });
    },
    halt(way) {
      this.player.jump(otherHalt(this.player.moments, this.player.place.at, way));
    },
    step(by) {
      this.player.play(false);
      this.player.go(stepped(this.player.moments, this.player.place, by));
      this.heard("state");
    },
    end(way) {
      this.player.play(false);
      const at = way > 0 ? this.player.moments.length - 1 : 0;
      this.player.go({ at, part: way > 0 ? sizeOf(this.player.moments[at]) : 0 });
      this.heard("state");
    },
    slide(event) {
      this.player.playing = false;
      this.player.gliding = false;
      this.player.go(placeOf(this.player.bar, this.player.moments, Number(event.target.value)));
      this.heard("state");
    },
    key(event) {
      if (this.state !== "ready" || event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      const on = event.target instanceof HTMLElement ? event.target : document.body;
      const mine = on === document.body || on.id === "screen" || this.$el.contains(on);
      const bar = on === this.$refs.bar;
      if (!mine || (on.closest("input, select, textarea") && !bar)) return;
      const act = {
        " ": on.closest("button, summary") ? null : () => this.play(),
        ArrowRight: () => this.step(event.shiftKey ? 10 : 1),
        ArrowLeft: () => this.step(event.shiftKey ? -10 : -1),
        PageDown: () => this.halt(1),
        PageUp: () => this.halt(-1),
        Home: () => this.end(-1),
        End: () => this.end(1),
        "+": () => this.zoom(1.5),
        "-": () => this.zoom(1 / 1.5),
        0: () => this.whole(),
        u: () => (this.side = this.side === "top" ? "under" : "top"),
      }[event.key];
      if (!act) return;
      event.preventDefault();
      act();
    },
  },
  template: `
  <section class="sew" :aria-label="t('frame.sew')" :class="[state, { charted: legend.length }]">
    <p v-if="trouble" class="trouble" role="alert"><strong>{{ trouble.message }}</strong> {{ trouble.cure }} <button class="plain" @click="load()">{{ t("sew.again") }}</button></p>
    <p v-if="state === 'loading'" class="quiet">{{ t("sew.loading") }}</p>
    <p v-if="state === 'empty'" class="sheet">{{ t("sew.empty") }}</p>
    <div class="sew-now" v-if="moment" :aria-live="playing ? 'off' : 'polite'">
      <p class="sew-head"><strong>{{ heading }}</strong> <span class="quiet">{{ counted }}</span></p>
      <p class="sew-sentence">{{ moment.sentence }}</p>
      <p v-if="moment.done === false" class="sew-undone">{{ t("sew.undone") }}</p>
    </div>
    <div class="sew-hoop linen" ref="hoop" v-show="state === 'ready'">
      <canvas ref="work" aria-hidden="true"></canvas>
      <canvas ref="over" role="img" :aria-label="t(side === 'top' ? 'sew.picture.top' : 'sew.picture.under')" :class="{ close }"
        @pointerdown="down" @pointermove="move" @pointerup="up" @pointercancel="up" @wheel="wheel"></canvas>
      <div class="sew-lens" v-if="state === 'ready'">
        <button class="plain" @click="zoom(1.5)" :aria-label="t('sew.nearer')" :title="t('sew.nearer')">+</button>
        <button class="plain" @click="zoom(1 / 1.5)" :disabled="!close" :aria-label="t('sew.farther')" :title="t('sew.farther')">−</button>
        <button v-if="close" class="plain wide" @click="whole">{{ t("sew.whole") }}</button>
      </div>
    </div>
    <div class="sew-drive" v-show="state === 'ready'">
      <div class="sew-legend" v-if="chart !== 'none' && legend.length">
        <p>{{ t(chart === "holes" ? "sew.map.holes.unit" : "sew.map.thick.unit") }}</p>
        <ul><li v-for="(l, i) in legend" :key="i" :class="{ much: l.much }"><span class="swatch" :style="{ backgroundColor: l.colour }"></span>{{ l.text }}</li></ul>
      </div>
      <div class="sew-bar">
        <span class="ticks" aria-hidden="true"><i v-for="(x, i) in haltMarks" :key="i" :style="{ left: x + '%' }"></i><b v-for="(x, i) in hoopStarts" :key="'h' + i" :style="{ left: x + '%' }"></b></span>
        <input type="range" ref="bar" min="0" :max="total" step="1" value="0" :aria-label="t('sew.bar')" :aria-valuetext="heading + ', ' + counted" @input="slide" @pointerdown="holding = true" @pointerup="holding = false" @change="holding = false">
      </div>
      <div class="sew-keys" role="group" :aria-label="t('sew.drive')">
        <button class="plain" @click="halt(-1)" :aria-label="t('sew.halt.back')" :title="t('sew.halt.back')">‹ {{ t("sew.halt") }}</button>
        <button class="plain" @click="step(-1)" :aria-label="t('sew.stitch.back')" :title="t('sew.stitch.back')">‹ {{ t("sew.stitch") }}</button>
        <button class="main" @click="play()">{{ t(playing ? "sew.wait" : "sew.on") }}</button>
        <button class="plain" @click="step(1)" :aria-label="t('sew.stitch.on')" :title="t('sew.stitch.on')">{{ t("sew.stitch") }} ›</button>
        <button class="plain" @click="halt(1)" :aria-label="t('sew.halt.on')" :title="t('sew.halt.on')">{{ t("sew.halt") }} ›</button>
      </div>
      <p class="sew-caught" v-if="caught"><strong>{{ t("sew.catches") }}</strong> <span v-if="caught.length">{{ caught.join(" · ") }}</span><span v-else>{{ t("sew.catches.none") }}</span></p>
      <details class="sew-help"><summary>{{ t("sew.help") }}</summary><dl><div v-for="k in keys" :key="k"><dt>{{ t("sew.key." + k) }}</dt><dd>{{ t("sew.key." + k + ".does") }}</dd></div></dl></details>
    </div>
    <div class="sew-ways" v-if="state === 'ready'">
      <label>{{ t("sew.tempo") }} <select v-model="tempo"><option v-for="n in tempos" :key="n" :value="n">{{ t("sew.tempo." + n) }}</option></select></label>
      <label>{{ t("sew.look") }} <select v-model="side"><option value="top">{{ t("sew.look.top") }}</option><option value="under">{{ t("sew.look.under") }}</option></select></label>
      <label>{{ t("sew.map") }} <select v-model="chart"><option value="none">{{ t("sew.map.none") }}</option><option value="thick">{{ t("sew.map.thick") }}</option><option value="holes">{{ t("sew.map.holes") }}</option></select></label>
      <label class="beside"><input type="checkbox" v-model="waits">{{ t("sew.waits") }}</label>
      <label class="beside"><input type="checkbox" v-model="outlined">{{ t("sew.marks") }}</label>
    </div>
    <aside class="sew-list sheet" v-if="state === 'ready'" :aria-label="t('sew.sheet')">
      <h2>{{ t("sew.sheet") }}</h2>
      <SewList :sheets="sheets" :moments="moments" :at="at" @jump="jump" />
    </aside>
  </section>`,
};
