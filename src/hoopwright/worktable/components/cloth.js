// Cloth and thread: the panel drawn large, and beside it what the piece, seam or ground under the hand is made of, and what lies on it.
// An item without a panel has cloths and threads all the same.
import { ask, of } from "/parts/ask.js";
import { ClothApart } from "/parts/cloth_apart.js";
import { ClothBoard } from "/parts/cloth_board.js";
import { EDGE } from "/parts/cloth_changes.js";
import { ClothGround } from "/parts/cloth_ground.js";
import { ClothLaid } from "/parts/cloth_laid.js";
import { ClothList } from "/parts/cloth_list.js";
import { spotOf } from "/parts/cloth_places.js";
import { ClothSeam } from "/parts/cloth_seam.js";
import { ClothThreads } from "/parts/cloth_threads.js";
import { modelOf, removeChanges } from "/parts/laid.js";
import { titleOf } from "/parts/laid_words.js";
import { t, texts } from "/parts/texts.js";

const MODES = ["cloth", "seam", "ground", "thread", "laid"];
const BARE = ["cloth", "thread", "laid"]; // of an item without a panel
const ANY = [1, 200]; // mm

export const Cloth = {
  components: { ClothApart, ClothBoard, ClothGround, ClothLaid, ClothList, ClothSeam, ClothThreads },
  props: { store: Object },
  keeps: ["mode", "letter", "ground", "seam", "thing", "grey", "at"],
  data: () => ({ mode: "cloth", letter: null, ground: null, seam: null, thing: null, grey: false, apart: null, at: 0, looks: {}, offer: null, trouble: null }),
  async mounted() {
    window.addEventListener("focus", this.lookAgain);
    this.$watch(() => texts.language, this.open);
    await this.open();
  },
  unmounted() {
    window.removeEventListener("focus", this.lookAgain);
    this.store.settle();
  },
  computed: {
    modes() {
      return this.panel ? MODES : BARE;
    },
    /** Whether the item is made without a panel; another that has none cannot be drawn yet. */
    bare() {
      return !this.panel && (this.view?.totals?.hoopings ?? 0) > 0;
    },
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
      if (!this.has(this.ground)) this.ground = null;
      if (!modelOf(this.store.project.panel, this.thing)) this.thing = null;
      if (this.seam !== EDGE && !seams.some((s) => s.number === this.seam)) this.seam = null;
    },
  },
  methods: {
    async open() {
      try {
        [this.offer, { looks: this.looks }] = await Promise.all([ask("/api/swatches"), ask(`${of(this.store.name)}/cloth`)]);
      } catch (error) {
        this.trouble = error;
      }
    },
    t,
    has(letter) {
      return this.panel?.patches.some((p) => p.letter === letter) ?? false;
    },
    goTo(spot) {
      if (this.mode !== spot.mode) this.turnTo(spot.mode);
      const letter = this.has(spot.letter) ? spot.letter : null;
      if (spot.letter !== undefined) this[spot.mode === "ground" ? "ground" : "letter"] = letter;
      if (spot.thing) this.thing = modelOf(this.store.project.panel, spot.thing) ? spot.thing : null;
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
      if (this.mode === "ground") this.ground = this.ground === letter ? null : letter;
      else this.turnTo("cloth");
      this.letter = letter;
      this.apart = null;
    },
    onThing(thing) {
      if (this.mode !== "laid") this.turnTo("laid");
      this.thing = thing;
      this.apart = null;
    },
    async takeAway(thing) {
      const { panel } = this.store.project;
      this.thing = null;
      await this.store.edit(t("laid.did.removed", { what: titleOf(thing, panel) }), removeChanges(panel, thing));
      this.$nextTick(() => this.$refs.laid?.toFirst());
    },
    /** How small and how large an accent can be made. */
    limits(model) {
      return this.offer?.motifs.find((m) => m.name === model.motif)?.size ?? ANY;
    },
    onSeam(number) {
      this.turnTo("seam");
      this.seam = number;
      this.apart = null;
    },
  },
  template: `
  <section class="cloth" :class="{ bare: !panel }" v-if="panel || bare" :aria-label="t('frame.cloth')">
    <div v-if="panel" class="cloth-left">
      <div class="row cloth-tools">
        <label v-if="panels.length > 1">{{ t("cloth.panel") }}<select v-model="at"><option v-for="(p, i) in panels" :key="p.key" :value="i">{{ i + 1 }}</option></select></label>
        <p class="quiet hint">{{ hint }}</p>
        <button type="button" class="plain" :aria-pressed="grey" @click="grey = !grey">{{ t("cloth.grey") }}</button>
      </div>
      <ClothBoard :store="store" :panel="panel" :looks="looks" :mode="mode" :letter="mode === 'ground' ? ground : letter" :seam="seam" :thing="thing" :limits="limits" :grey="grey" :apart="apart" @piece="onPiece" @seam="onSeam" @thing="onThing" @take-away="takeAway" />
      <ClothApart class="wide-only" :store="store" :panel="panel" v-model:apart="apart" />
    </div>
    <div class="cloth-right sheet">
      <p v-if="!panel" class="quiet">{{ t("cloth.bare") }}</p>
      <div class="modes" role="group" :aria-label="t('cloth.modes')"><button v-for="m in modes" :key="m" type="button" class="plain" :aria-pressed="mode === m" @click="turnTo(m)">{{ t("cloth.mode." + m) }}</button></div>
      <p v-if="trouble" role="alert" class="wrong">{{ t("cloth.trouble") }}</p>
      <ClothList v-if="mode === 'cloth'" :store="store" :panel="panel" :letter="letter" :looks="looks" @looks="looks = $event" />
      <ClothSeam v-if="mode === 'seam' && panel && offer" :store="store" :panel="panel" v-model:seam="seam" :offer="offer" />
      <ClothGround v-if="mode === 'ground' && panel && offer" :store="store" :panel="panel" v-model:letter="ground" :near="letter" :offer="offer" />
      <ClothThreads v-if="mode === 'thread'" :store="store" />
      <ClothLaid ref="laid" v-if="mode === 'laid'" :store="store" :panel="panel" :letter="letter" v-model:thing="thing" :offer="offer" />
    </div>
    <ClothApart v-if="panel" class="narrow-only" :store="store" :panel="panel" v-model:apart="apart" />
  </section>
  <p v-else class="sheet">{{ t("cloth.nothing") }}</p>`,
};
