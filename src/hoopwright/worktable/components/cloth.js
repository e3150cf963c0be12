// Cloth and thread: the panel drawn large, and beside it what the piece, seam or ground under the hand is made of.
import { ask, of } from "/parts/ask.js";
import { ClothApart } from "/parts/cloth_apart.js";
import { ClothBoard } from "/parts/cloth_board.js";
import { EDGE } from "/parts/cloth_changes.js";
import { ClothGround } from "/parts/cloth_ground.js";
import { ClothList } from "/parts/cloth_list.js";
import { spotOf } from "/parts/cloth_places.js";
import { ClothSeam } from "/parts/cloth_seam.js";
import { ClothThreads } from "/parts/cloth_threads.js";
import { t } from "/parts/texts.js";

const MODES = ["cloth", "seam", "ground", "thread"];

export const Cloth = {
  components: { ClothApart, ClothBoard, ClothGround, ClothList, ClothSeam, ClothThreads },
  props: { store: Object },
  keeps: ["mode", "letter", "seam", "grey", "at"],
  data: () => ({ mode: "cloth", letter: null, seam: null, grey: false, apart: null, at: 0, looks: {}, offer: null, trouble: null }),
  async mounted() {
    window.addEventListener("focus", this.lookAgain);
    try {
      [this.offer, { looks: this.looks }] = await Promise.all([ask("/api/swatches"), ask(`${of(this.store.name)}/cloth`)]);
    } catch (error) {
      this.trouble = error;
    }
  },
  unmounted() {
    window.removeEventListener("focus", this.lookAgain);
    this.store.settle();
  },
  computed: {
    modes: () => MODES,
    view() {
      return this.store.tried ?? this.store.view;
    },
    panels() {
      return this.view?.panels ?? [];
    },
    panel() {
      return this.panels[this.at] ?? this.panels[0] ?? null;
    },
    hint() {
      return t(`cloth.hint.${this.mode}`);
    },
  },
  watch: {
    /** A finding that was pressed, here or on another screen, leads to what mends it. */
    "store.chosen": {
      immediate: true,
      handler(found) {
        const spot = found ? spotOf(found) : null;
        if (spot) this.goTo(spot);
        else if (found?.patch && this.has(found.patch)) this.letter = found.patch;
      },
    },
    "store.view"() {
      const { seams = [] } = this.panel ?? {};
      if (!this.has(this.letter)) this.letter = null;
      if (this.seam !== EDGE && !seams.some((s) => s.number === this.seam)) this.seam = null;
    },
  },
  methods: {
    t,
    has(letter) {
      return this.panel?.patches.some((p) => p.letter === letter) ?? false;
    },
    goTo(spot) {
      if (this.mode !== spot.mode) this.turnTo(spot.mode);
      if (spot.letter !== undefined) this.letter = this.has(spot.letter) ? spot.letter : null;
      if (spot.seam !== undefined) this.seam = spot.seam;
    },
    /** Prints and photographs may have changed in another window. */
    async lookAgain() {
      const said = await ask(`${of(this.store.name)}/cloth`).catch(() => null);
      if (said) this.looks = said.looks;
    },
    turnTo(mode) {
      this.store.settle();
      this.mode = mode;
    },
    onPiece(letter) {
      if (this.mode !== "ground") this.turnTo("cloth");
      this.letter = this.letter === letter && this.mode === "ground" ? null : letter;
      this.apart = null;
    },
    onSeam(number) {
      this.turnTo("seam");
      this.seam = number;
      this.apart = null;
    },
  },
  template: `
  <section class="cloth" v-if="panel" :aria-label="t('frame.cloth')">
    <div class="cloth-left">
      <div class="row cloth-tools">
        <label v-if="panels.length > 1">{{ t("cloth.panel") }}<select v-model="at"><option v-for="(p, i) in panels" :key="p.key" :value="i">{{ i + 1 }}</option></select></label>
        <p class="quiet hint">{{ hint }}</p>
        <button type="button" class="plain" :aria-pressed="grey" @click="grey = !grey">{{ t("cloth.grey") }}</button>
      </div>
      <ClothBoard :store="store" :panel="panel" :looks="looks" :mode="mode" :letter="letter" :seam="seam" :grey="grey" :apart="apart" @piece="onPiece" @seam="onSeam" />
      <ClothApart class="wide-only" :store="store" :panel="panel" v-model:apart="apart" />
    </div>
    <div class="cloth-right sheet">
      <div class="modes" role="group" :aria-label="t('cloth.modes')"><button v-for="m in modes" :key="m" type="button" class="plain" :aria-pressed="mode === m" @click="turnTo(m)">{{ t("cloth.mode." + m) }}</button></div>
      <p v-if="trouble" role="alert" class="wrong">{{ t("cloth.trouble") }}</p>
      <ClothList v-if="mode === 'cloth'" :store="store" :panel="panel" :letter="letter" :looks="looks" @looks="looks = $event" />
      <ClothSeam v-if="mode === 'seam' && offer" :store="store" :panel="panel" v-model:seam="seam" :offer="offer" />
      <ClothGround v-if="mode === 'ground' && offer" :store="store" :panel="panel" v-model:letter="letter" :offer="offer" />
      <ClothThreads v-if="mode === 'thread'" :store="store" />
    </div>
    <ClothApart class="narrow-only" :store="store" :panel="panel" v-model:apart="apart" />
  </section>
  <p v-else class="sheet">{{ t("cloth.nothing") }}</p>`,
};
