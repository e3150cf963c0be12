// All panels of an item that has several of the same patchwork: one drawing is made for them, and each is shown as it comes of it.
import { t, texts } from "/parts/texts.js";

const ROOM = 3; // mm of linen round a panel

/** Where a panel lies in its small picture. @param {[number, number][]} outline */
export function boxOf(outline) {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => -p[1]);
  const [left, top] = [Math.min(...xs) - ROOM, Math.min(...ys) - ROOM];
  return [left, top, Math.max(...xs) - left + ROOM, Math.max(...ys) - top + ROOM];
}

export const DrawPanels = {
  props: { view: Object },
  computed: {
    panels() {
      return this.view?.panels?.length > 1 ? this.view.panels : [];
    },
    names() {
      return new Intl.ListFormat(texts.language).format(this.panels.map((p) => this.name(p)));
    },
  },
  methods: {
    t,
    name: (panel) => (`panel.${panel.key}` in texts.words ? t(`panel.${panel.key}`) : panel.key),
    box: (panel) => boxOf(panel.outline).join(" "),
    d: (ring) => `M${ring.map(([x, y]) => `${x} ${-y}`).join("L")}Z`,
  },
  template: `
  <section v-if="panels.length" class="sheet draw-panels" :aria-label="t('draw.panels', { names })">
    <h2>{{ t("draw.panels", { names }) }}</h2>
    <p class="quiet">{{ t("draw.panels.hint", { n: panels.length }) }}</p>
    <div class="row">
      <figure v-for="p in panels" :key="p.key">
        <svg :viewBox="box(p)" role="img" :aria-label="name(p)">
          <path v-for="q in p.patches" :key="q.letter" :d="d(q.area)" :fill="q.colour" class="piece" />
          <path :d="d(p.outline)" class="outline" />
        </svg>
        <figcaption class="quiet" aria-hidden="true">{{ name(p) }}</figcaption>
      </figure>
    </div>
  </section>`,
};
