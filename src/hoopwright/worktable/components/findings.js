// What was found about the project; pressing one shows its place.
import { t, tn } from "/parts/texts.js";

const ORDER = { blocks: 0, warns: 1, notes: 2 };

export const Findings = {
  props: { store: Object },
  computed: {
    rows() {
      const view = this.store.tried ?? this.store.view;
      const all = [...this.store.problems, ...(view?.findings ?? [])];
      return all.slice().sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);
    },
    heading() {
      return this.rows.length ? tn("findings.count", this.rows.length) : t("findings.none");
    },
  },
  methods: {
    t,
    choose(row) {
      this.store.chosen = this.store.chosen === row ? null : row;
    },
  },
  template: `
  <aside class="findings" :aria-label="t('findings.title')">
    <h2 aria-live="polite">{{ heading }}</h2>
    <ul>
      <li v-for="(row, i) in rows" :key="i">
        <button class="finding" :class="row.severity" :aria-pressed="store.chosen === row" @click="choose(row)">
          <span class="severity">{{ t("findings." + row.severity) }}</span>
          <span lang="en" class="said">{{ row.message }}</span>
          <span lang="en" class="cure">{{ row.cure }}</span>
        </button>
      </li>
    </ul>
  </aside>`,
};
