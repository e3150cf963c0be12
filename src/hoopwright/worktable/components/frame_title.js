// The title of the project in the head; pressed, it can be written anew.
import { t } from "/parts/texts.js";

const LONGEST = 120;

export const FrameTitle = {
  props: { store: Object },
  data: () => ({ text: null, longest: LONGEST }),
  computed: {
    title() {
      return this.store.project?.title ?? this.store.name;
    },
  },
  methods: {
    t,
    begin() {
      if (!this.store.project) return;
      this.text = this.title;
      this.$nextTick(() => this.$refs.field.select());
    },
    /** Take the new title; an empty one leaves the old. */
    end(taken) {
      const text = (this.text ?? "").trim();
      const asked = this.text !== null;
      this.text = null;
      if (taken && asked && text && text !== this.title) this.store.rename(`${t("did.renamed")}: ${text}`.slice(0, 120), text);
      if (asked) this.$nextTick(() => this.$refs.press?.focus());
    },
  },
  template: `
  <form v-if="text !== null" class="title title-form" @submit.prevent="end(true)">
    <input ref="field" v-model="text" :maxlength="longest" :aria-label="t('frame.title')" autocomplete="off" spellcheck="true" @blur="end(true)" @keydown.esc.prevent="end(false)">
  </form>
  <h1 v-else class="title"><button ref="press" class="bare-button title-button" :title="t('frame.rename')" @click="begin">{{ title }}<span class="unseen">, {{ t("frame.rename") }}</span></button></h1>`,
};
