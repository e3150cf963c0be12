// What is hard to tell apart, in sentences; pressing one shows its places on the drawing.
import { gathered } from "/parts/cloth_contrast.js";
import { t, texts, tn } from "/parts/texts.js";

export const ClothApart = {
  props: { store: Object, panel: Object, apart: String },
  emits: ["update:apart"],
  computed: {
    groups() {
      return gathered(this.panel.contrast);
    },
  },
  methods: {
    t,
    cloth(key) {
      return this.store.project.cloths[key]?.name ?? t("cloth.none");
    },
    said(group) {
      const { first } = group;
      const [a, b] = first.cloths.map(this.cloth);
      const values = { a, b, apart: first.apart.toLocaleString(texts.language), plain: first.plain };
      if (group.way === "thread") return tn("cloth.apart.thread", group.seams.length, { ...values, thread: this.store.project.threads[first.thread]?.name ?? first.thread, seams: group.seams.join(", ") });
      const pairs = group.pairs.map(([one, other]) => t("cloth.apart.pair", { one, other })).join(", ");
      return t(first.cloths[0] === first.cloths[1] ? "cloth.apart.same" : "cloth.apart.cloths", { ...values, pairs });
    },
  },
  template: `
  <section class="apart" :aria-label="t('cloth.apart')">
    <h3>{{ t("cloth.apart") }}</h3>
    <p v-if="!groups.length" class="quiet">{{ t("cloth.apart.none") }}</p>
    <ul v-else><li v-for="g in groups" :key="g.key"><button type="button" class="plain apart-row" :aria-pressed="apart === g.key" @click="$emit('update:apart', apart === g.key ? null : g.key)"><svg viewBox="-4 -4 8 8" aria-hidden="true" class="cloth-marks"><g :class="g.way"><circle v-if="g.way === 'cloths'" r="2.9" /><rect v-else x="-2.5" y="-2.5" width="5" height="5" transform="rotate(45)" /><path d="M-1.5 -.5q.75 -.9 1.5 0t1.5 0M-1.5 .9q.75 -.9 1.5 0t1.5 0" /></g></svg><span>{{ said(g) }}</span></button></li></ul>
  </section>`,
};
