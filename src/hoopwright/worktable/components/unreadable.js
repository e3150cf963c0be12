// A project file that cannot be read, most often after a change in a text editor: what is wrong, in which line, and the way back.
import { t } from "/parts/texts.js";

export const Unreadable = {
  props: { store: Object },
  emits: ["earlier"],
  computed: {
    rows() {
      return this.store.problems.filter((p) => p.severity === "blocks");
    },
  },
  methods: { t },
  template: `
  <section class="unreadable sheet stack">
    <h2>{{ t("unreadable.title") }}</h2>
    <p>{{ t("unreadable.hint") }}</p>
    <div class="row">
      <button v-if="store.sound !== null" @click="store.goTo(store.sound)">{{ t("unreadable.sound") }}</button>
      <button class="plain" aria-haspopup="dialog" @click="$emit('earlier')">{{ t("versions.open") }}</button>
    </div>
    <ol class="problems">
      <li v-for="(p, i) in rows" :key="i"><strong v-if="p.line" class="problem-line">{{ t("unreadable.line", { n: p.line }) }}</strong><span>{{ p.message }}. <span class="quiet">{{ p.cure }}</span></span></li>
    </ol>
  </section>`,
};
