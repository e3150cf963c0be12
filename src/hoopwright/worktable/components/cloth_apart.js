// What is hard to tell apart, in sentences; pressing one shows its place on the drawing.
import { t, texts } from "/parts/texts.js";

export const ClothApart = {
  props: { store: Object, panel: Object, row: Object },
  emits: ["update:row"],
  methods: {
    t,
    cloth(key) {
      return this.store.project.cloths[key]?.name ?? t("cloth.none");
    },
    said(row) {
      const apart = row.apart.toLocaleString(texts.language);
      const letters = row.patches.join(", ");
      if (row.way === "thread") return t("cloth.apart.thread", { thread: this.store.project.threads[row.thread]?.name ?? row.thread, n: row.seam, letters, cloth: this.cloth(row.cloths[0]), apart, plain: row.plain });
      const [one, other] = row.patches;
      if (row.cloths[0] === row.cloths[1]) return t("cloth.apart.same", { one, other, cloth: this.cloth(row.cloths[0]) });
      return t("cloth.apart.cloths", { one, other, a: this.cloth(row.cloths[0]), b: this.cloth(row.cloths[1]), apart, plain: row.plain });
    },
  },
  template: `
  <section class="apart" :aria-label="t('cloth.apart')">
    <h3>{{ t("cloth.apart") }}</h3>
    <p v-if="!panel.contrast.length" class="quiet">{{ t("cloth.apart.none") }}</p>
    <ul v-else><li v-for="(c, i) in panel.contrast" :key="i"><button type="button" class="plain apart-row" :aria-pressed="row === c" @click="$emit('update:row', row === c ? null : c)"><svg viewBox="-4 -4 8 8" aria-hidden="true" class="cloth-marks"><g :class="c.way"><circle v-if="c.way === 'cloths'" r="2.9" /><rect v-else x="-2.5" y="-2.5" width="5" height="5" transform="rotate(45)" /><path d="M-1.5 -.5q.75 -.9 1.5 0t1.5 0M-1.5 .9q.75 -.9 1.5 0t1.5 0" /></g></svg><span>{{ said(c) }}</span></button></li></ul>
  </section>`,
};
