// Patchwork by a rule with a seed.
import { t } from "/parts/texts.js";

const RULES = ["crazy-centre", "crazy-cuts", "strips", "fan", "rounds"];

export const RuleForm = {
  props: { store: Object, panel: Object },
  data: () => ({ seed: 1, patches: 6, rule: "crazy-centre" }),
  created() {
    const work = this.store.project.panel.patchwork;
    if (work && RULES.includes(work.way)) Object.assign(this, { seed: work.seed ?? 1, patches: work.patches ?? 7, rule: work.way });
  },
  computed: {
    rules: () => RULES,
  },
  methods: {
    t,
    changes() {
      return [{ path: "panel.patchwork", value: { way: this.rule, seed: Number(this.seed), patches: Number(this.patches) } }, { path: "panel.order", value: null }, { path: "panel.first", value: null }];
    },
    look() {
      this.store.attempt(this.changes());
    },
    take() {
      this.store.edit(t("did.rule"), this.changes());
    },
  },
  template: `
  <form class="sheet stack" @submit.prevent="take" :aria-label="t('draw.rule')">
    <h2>{{ t("draw.rule") }}</h2>
    <div class="row">
      <label>{{ t("draw.rule.which") }}<select v-model="rule" @change="look"><option v-for="r in rules" :key="r" :value="r">{{ t("draw.rule." + r) }}</option></select></label>
      <label>{{ t("draw.rule.patches") }}<input type="number" min="1" max="60" v-model="patches" @change="look" size="4"></label>
      <label>{{ t("draw.rule.seed", { seed }) }}<input type="range" min="1" max="200" v-model="seed" @input="look"></label>
    </div>
    <div class="row"><button>{{ t("draw.rule.take") }}</button><button type="button" class="plain" v-if="store.tried" @click="store.settle()">{{ t("draw.rule.leave") }}</button></div>
  </form>`,
};
