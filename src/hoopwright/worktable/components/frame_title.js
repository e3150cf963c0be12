// The title of the project in the head; pressed, it can be written anew.
import { LONGEST_TITLE, titleTrouble } from "/parts/shelf_form.js";
import { cutTo } from "/parts/shelf_words.js";
import { t } from "/parts/texts.js";

export const FrameTitle = {
  props: { store: Object },
  data: () => ({ text: null }),
  computed: {
    title() {
      return this.store.project?.title ?? this.store.name;
    },
    /** A title too long is refused in words, not cut. */
    said() {
      return this.text?.trim() && titleTrouble(this.text) ? t("shelf.title.long", { n: LONGEST_TITLE }) : "";
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
      if (taken && this.said) return;
      const text = (this.text ?? "").trim();
      const asked = this.text !== null;
      this.text = null;
      if (taken && asked && text && text !== this.title) this.store.rename(cutTo(`${t("did.renamed")}: ${text}`), text);
      if (asked) this.$nextTick(() => this.$refs.press?.focus());
    },
  },
  template: `
  <form v-if="text !== null" class="title title-form" @submit.prevent="end(true)">
    <input ref="field" v-model="text" :aria-label="t('frame.title')" autocomplete="off" spellcheck="true" @blur="end(true)" :aria-invalid="said ? 'true' : null" aria-describedby="title-said" @keydown.esc.prevent="end(false)">
    <span v-if="said" id="title-said" class="limits said-wrong" role="alert">{{ said }}</span>
  </form>
  <h1 v-else class="title"><button ref="press" class="bare-button title-button" :title="t('frame.rename')" @click="begin">{{ title }}<span class="unseen">, {{ t("frame.rename") }}</span></button></h1>`,
};
