// Pieces by a rule with a seed, live; pieces that are kept stay as they are, and the rule draws the others.
import { ask, of } from "/parts/ask.js";
import { t, tn } from "/parts/texts.js";

const RULES = ["crazy-centre", "crazy-cuts", "strips", "fan", "rounds"];

export const RuleForm = {
  props: { store: Object, panel: Object, kept: Array, hand: Object },
  emits: ["save", "looking"],
  data: () => ({ seed: 1, patches: 7, rule: "crazy-centre", values: null, said: null, looking: false }),
  created() {
    this.read();
  },
  computed: {
    rules: () => RULES,
    angled() {
      return this.rule === "strips" || this.rule === "fan";
    },
  },
  watch: {
    looking(now) {
      this.$emit("looking", now);
    },
    "store.version"() {
      this.looking = false;
      this.values = null;
      this.said = null;
      this.read();
    },
    kept() {
      if (this.looking) this.look();
    },
  },
  methods: {
    t,
    read() {
      const work = this.store.project.panel.patchwork;
      if (work && RULES.includes(work.way)) Object.assign(this, { seed: work.seed ?? 1, patches: work.patches ?? 7, rule: work.way });
      else if (this.panel.patches.length > 1) this.patches = this.panel.patches.length;
    },
    wish() {
      const old = this.store.project.panel.patchwork;
      const same = old && RULES.includes(old.way) ? Object.fromEntries(["angle", "least_area", "least_edge", "least_angle"].map((k) => [k, old[k]]).filter(([, v]) => v !== undefined)) : {};
      const patches = Math.min(60, Math.max(1, Math.round(Number(this.patches)) || 1));
      return { ...same, way: this.rule, seed: Number(this.seed), patches };
    },
    look() {
      this.looking = true;
      return this.hand.ask(this.kept.length ? () => this.keeping() : () => this.plain());
    },
    plain() {
      this.values = { patchwork: this.wish(), order: null, first: null };
      this.said = null;
      return ask(`${of(this.store.name)}/draw/hand`, { patchwork: this.values.patchwork });
    },
    async keeping() {
      const wish = this.wish();
      wish.patches = Math.max(1, wish.patches - this.kept.length);
      try {
        const { values, tried } = await ask(`${of(this.store.name)}/draw/keep`, { letters: this.kept, wish });
        this.values = values;
        this.said = values === null ? t("draw.rule.none") : tried > 1 ? tn("draw.rule.further", tried - 1) : null;
        if (values === null) return null;
        return ask(`${of(this.store.name)}/draw/hand`, { patchwork: values.patchwork, cloths: values.cloths ?? {} });
      } catch (error) {
        this.values = null;
        this.said = `${error.message}. ${error.cure}`;
        return null;
      }
    },
    async take() {
      if (!this.looking) await this.look();
      if (this.values) this.$emit("save", t("did.rule"), this.values);
    },
    leave() {
      this.looking = false;
      this.said = null;
      this.hand.leave();
      this.read();
    },
  },
  template: `
  <details class="sheet">
    <summary><h2>{{ t("draw.rule") }}</h2></summary>
    <form class="stack" @submit.prevent="take" :aria-label="t('draw.rule')">
      <div class="row tight">
        <label>{{ t("draw.rule.which") }}<select v-model="rule" @change="look"><option v-for="r in rules" :key="r" :value="r">{{ t("draw.rule." + r) }}</option></select></label>
        <label>{{ t("draw.rule.patches") }}<input type="number" min="1" max="60" v-model="patches" @change="look"></label>
      </div>
      <label>{{ t("draw.rule.seed", { seed }) }}<input type="range" min="1" max="200" v-model="seed" @input="look"></label>
      <p class="quiet">{{ kept.length ? t("draw.rule.kept", { letters: kept.join(", ") }) : t("draw.rule.keep") }}</p>
      <p v-if="said" role="status">{{ said }}</p>
      <div class="row tight"><button :disabled="looking && !values">{{ t("draw.rule.take") }}</button><button type="button" class="plain" v-if="looking" @click="leave">{{ t("draw.rule.leave") }}</button></div>
    </form>
  </details>`,
};
