// The figures that stay in view: size, minutes, stitches, halts, thread, cloth.
import { t, tn } from "/parts/texts.js";
import { length } from "/parts/measures.js";

export const Totals = {
  props: { store: Object },
  computed: {
    totals() {
      return (this.store.tried ?? this.store.view)?.totals ?? null;
    },
    units() {
      return this.store.project?.units ?? "mm";
    },
    rows() {
      const all = this.totals;
      if (!all) return [];
      const size = all.sizes[0] ? all.sizes[0].map((side) => length(side, this.units)).join(" × ") : "–";
      const thread = all.threads.reduce((sum, [, metres]) => sum + metres, 0);
      return [
        ["size", size],
        ["time", t("totals.minutes", { machine: Math.ceil(all.machine), hands: Math.ceil(all.hands) })],
        ["stitches", all.stitches.toLocaleString()],
        ["halts", tn("totals.halts", all.halts)],
        ["thread", t("totals.metres", { metres: thread.toFixed(1) })],
        ["cloths", tn("totals.cloths", all.cloths.length)],
      ];
    },
  },
  methods: { t },
  template: `
  <footer class="totals" :aria-label="t('totals.title')">
    <dl><div v-for="[key, value] in rows" :key="key"><dt>{{ t("totals." + key) }}</dt><dd>{{ value }}</dd></div></dl>
    <p class="saved" aria-live="polite">{{ store.saving ? t("totals.saving") : t("totals.saved") }}</p>
  </footer>`,
};
