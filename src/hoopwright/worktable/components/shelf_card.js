// A project on the shelf: its picture, title, what it is, its size, when it was changed; and what can be done with it.
import { sides } from "/parts/measures.js";
import { when } from "/parts/moments_said.js";
import { LONGEST_TITLE, titleTrouble } from "/parts/shelf_form.js";
import { titleOf } from "/parts/shelf_words.js";
import { t } from "/parts/texts.js";

export const ShelfCard = {
  props: { project: Object },
  emits: ["copy", "rename", "rest"],
  data: () => ({ open: false, text: null }),
  computed: {
    href() {
      return `/project/${encodeURIComponent(this.project.name)}/draw`;
    },
    picture() {
      const p = this.project;
      return p.picture ? `/api/shelf/${encodeURIComponent(p.name)}/picture?print=${p.print}` : null;
    },
    sizes() {
      const { sizes, units } = this.project;
      return sizes.slice(0, 2).map((size) => sides(size, units));
    },
    /** What is wrong with the title that is being written. */
    said() {
      const wrong = this.text === null ? null : titleTrouble(this.text);
      return wrong ? t(wrong, { n: LONGEST_TITLE }) : "";
    },
    about() {
      return this.project.sound ? titleOf(this.project.item) : t("shelf.unreadable");
    },
  },
  methods: {
    t,
    when,
    begin() {
      this.text = this.project.title;
      this.open = false;
      this.$nextTick(() => this.$refs.field.select());
    },
    end(taken) {
      if (taken && this.said) return;
      const text = (this.text ?? "").trim();
      this.text = null;
      if (taken && text && text !== this.project.title) this.$emit("rename", text);
    },
    act(what) {
      this.open = false;
      this.$emit(what);
    },
    left(event) {
      if (!this.$refs.menu?.contains(event.relatedTarget)) this.open = false;
    },
  },
  template: `
  <li class="card project" :class="{ resting: project.archived }">
    <a class="card-press" :href="href">
      <span class="card-picture"><img v-if="picture" :class="{ drawn: project.picture === 'drawn' }" :src="picture" alt="" loading="lazy"><span v-else class="no-picture" :class="{ waiting: project.sound && project.print === null }" aria-hidden="true"></span></span>
      <span v-if="text === null" class="card-title">{{ project.title }}</span>
    </a>
    <form v-if="text !== null" class="card-form" @submit.prevent="end(true)">
      <input ref="field" v-model="text" :aria-label="t('frame.title')" autocomplete="off" :aria-invalid="said ? 'true' : null" @keydown.esc.prevent="end(false)">
      <p v-if="said" class="limits said-wrong" role="alert">{{ said }}</p>
      <div class="row"><button type="submit">{{ t("shelf.take") }}</button><button type="button" class="plain" @click="end(false)">{{ t("shelf.leave") }}</button></div>
    </form>
    <div class="card-foot">
      <p><span :class="{ 'said-wrong': !project.sound }">{{ about }}</span><span v-if="sizes.length">{{ sizes.join(", ") }}</span><span class="quiet">{{ t("shelf.changed", { when: when(project.changed) }) }}</span></p>
      <div ref="menu" class="card-menu" @focusout="left" @keydown.esc="open = false">
        <button class="plain dots" :aria-expanded="open" :aria-label="t('shelf.do', { title: project.title })" @click="open = !open"><span aria-hidden="true">•••</span></button>
        <div v-if="open" class="card-list">
          <button v-if="project.sound" class="plain" @click="begin">{{ t("shelf.rename") }}</button>
          <button v-if="project.sound" class="plain" @click="act('copy')">{{ t("shelf.copy") }}</button>
          <button class="plain" @click="act('rest')">{{ t(project.archived ? "shelf.back" : "shelf.rest") }}</button>
        </div>
      </div>
    </div>
  </li>`,
};
