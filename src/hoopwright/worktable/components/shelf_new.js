// A new project from a recipe: its title, the maker's units, and how large it is to be.
import { ask } from "/parts/ask.js";
import { changedOf, grouped, LONGEST_TITLE, meantMm, partOf, shown, titleTrouble, wrongOf } from "/parts/shelf_form.js";
import { Sheet } from "/parts/sheet.js";
import { choiceOf, namesOf, settingOf } from "/parts/shelf_words.js";
import { length } from "/parts/measures.js";
import { t, texts } from "/parts/texts.js";

const UNITS = "hoopwright.units";

export const NewProject = {
  components: { Sheet },
  props: { recipe: Object },
  emits: ["close"],
  data() {
    const kept = localStorage.getItem(UNITS);
    const units = kept === "in" || kept === "mm" ? kept : /-(US|LR|MM)$/.test(navigator.language) ? "in" : "mm";
    return { title: namesOf(this.recipe).title, units, values: {}, trouble: null, busy: false, tried: false };
  },
  computed: {
    names() {
      return namesOf(this.recipe);
    },
    groups() {
      return grouped(this.recipe.form);
    },
    /** What is wrong with the title; one not yet written is told when it is missed. */
    untitled() {
      return titleTrouble(this.title);
    },
    titleSaid() {
      return this.untitled === "shelf.title.none" && !this.tried ? "" : this.untitled ? t(this.untitled, { n: LONGEST_TITLE }) : "";
    },
    wrong() {
      return this.recipe.form.filter((row) => wrongOf(row, this.values[row.name], this.units));
    },
  },
  created() {
    this.fill();
  },
  watch: {
    values: { deep: true, handler: "calm" },
    title: "calm",
    units: "calm",
  },
  mounted() {
    this.$nextTick(() => document.getElementById("new-title")?.select());
  },
  methods: {
    t,
    length,
    settingOf,
    choiceOf,
    /** What was refused is being changed: what was said about it no longer holds. */
    calm() {
      this.trouble = null;
    },
    fill() {
      this.values = Object.fromEntries(this.recipe.form.map((row) => [row.name, shown(row, this.units)]));
    },
    turnUnits() {
      localStorage.setItem(UNITS, this.units);
      this.fill();
    },
    sideLimits(row, i) {
      return shown(partOf(row, i), this.units, "limits");
    },
    sideWrong(row, i) {
      return wrongOf(partOf(row, i), this.values[row.name][i], this.units);
    },
    /** What stands in a field as inches, and was meant in millimetres. */
    meant(row) {
      const fields = row.kind === "lengths" ? this.values[row.name].map((text, i) => [partOf(row, i), text]) : row.kind === "length" ? [[row, this.values[row.name]]] : [];
      return fields.map(([one, text]) => meantMm(one, text, this.units)).find(Boolean);
    },
    limits(row) {
      return shown({ ...row, said: true }, this.units, "limits");
    },
    isWrong(row) {
      return this.wrong.includes(row);
    },
    async make() {
      this.tried = true;
      if (this.wrong.length || this.untitled) {
        document.getElementById(this.untitled ? "new-title" : `new-${this.wrong[0].name}`)?.focus();
        return;
      }
      this.busy = true;
      this.trouble = null;
      try {
        const make = changedOf(this.recipe.form, this.values, this.units);
        const said = await ask("/api/shelf/new", { item: this.recipe.name, title: this.title.trim(), units: this.units, make });
        location.href = `/project/${encodeURIComponent(said.name)}/draw`;
      } catch (error) {
        this.trouble = error;
        this.busy = false;
      }
    },
    offline: (error) => error.status === 0,
    language: () => texts.language,
  },
  template: `
  <Sheet :heading="names.title" @close="$emit('close')">
    <div class="new-head"><span v-if="recipe.picture" class="new-picture"><img class="drawn" :src="'/recipes/' + recipe.name + '.svg'" alt=""></span><p>{{ names.summary }}</p></div>
    <form class="stack" @submit.prevent="make" novalidate>
      <label>{{ t("shelf.title") }}<input id="new-title" v-model="title" required autocomplete="off" spellcheck="true" :aria-invalid="titleSaid ? 'true' : null" :aria-describedby="titleSaid ? 'title-said' : null"></label>
      <p v-if="titleSaid" id="title-said" class="limits said-wrong" role="alert">{{ titleSaid }}</p>
      <fieldset class="units"><legend>{{ t("shelf.units") }}</legend>
        <label class="beside"><input v-model="units" type="radio" value="mm" @change="turnUnits">{{ t("shelf.units.mm") }}</label>
        <label class="beside"><input v-model="units" type="radio" value="in" @change="turnUnits">{{ t("shelf.units.in") }}</label>
      </fieldset>
      <component v-for="g in groups" :is="g.folded ? 'details' : 'div'" :key="g.key" class="settings">
        <summary v-if="g.folded">{{ t("shelf.settings.more") }}</summary>
        <div class="settings-rows">
          <div v-for="row in g.rows" :key="row.name" class="setting" :class="row.kind">
            <label v-if="row.kind === 'flag'" class="beside"><input :id="'new-' + row.name" v-model="values[row.name]" type="checkbox">{{ settingOf(row.name) }}</label>
            <label v-else-if="row.kind === 'choice'">{{ settingOf(row.name) }}<select :id="'new-' + row.name" v-model="values[row.name]"><option v-if="row.usual === null" value="">{{ t("shelf.auto") }}</option><option v-for="c in row.choices" :key="c" :value="c">{{ choiceOf(row.name, c) }}</option></select></label>
            <label v-else-if="row.kind === 'texts'">{{ settingOf(row.name) }}<textarea :id="'new-' + row.name" v-model="values[row.name]" rows="3"></textarea></label>
            <fieldset v-else-if="row.kind === 'lengths'"><legend>{{ settingOf(row.name) }}</legend><div class="row"><label v-for="(_, i) in row.count" :key="i">{{ t(row.count === 2 && i ? "make.height" : "shelf.side." + i) }}<input :id="i ? null : 'new-' + row.name" v-model="values[row.name][i]" :placeholder="row.example ? t('shelf.example', { value: length(row.example[i], units) }) : null" inputmode="decimal" size="7" autocomplete="off" :aria-invalid="isWrong(row) && (sideWrong(row, i) || !values[row.name][i].trim()) ? 'true' : null"><span v-if="sideLimits(row, i)" :class="{ 'said-wrong': sideWrong(row, i) }" class="limits">{{ sideLimits(row, i) }}</span></label></div></fieldset>
            <label v-else>{{ settingOf(row.name) }}<input :id="'new-' + row.name" v-model="values[row.name]" inputmode="decimal" size="9" autocomplete="off" :placeholder="row.usual === null ? t('shelf.auto') : null" :aria-invalid="isWrong(row) ? 'true' : null" :aria-describedby="limits(row) ? 'limits-' + row.name : null"></label>
            <span v-if="limits(row)" :id="'limits-' + row.name" class="limits" :class="{ 'said-wrong': isWrong(row) }">{{ limits(row) }}</span>
            <span v-else-if="isWrong(row)" class="limits said-wrong">{{ t("shelf.wrong") }}</span>
            <span v-if="meant(row)" class="limits said-wrong">{{ t("shelf.meant", { value: meant(row) }) }}</span>
          </div>
        </div>
      </component>
      <div v-if="trouble" class="trouble" role="alert"><div><p v-if="offline(trouble)"><strong>{{ t("trouble.offline") }}.</strong></p><template v-else><p><strong>{{ trouble.message }}.</strong> {{ trouble.cure }}</p><ul v-if="trouble.findings?.length"><li v-for="(f, i) in trouble.findings" :key="i">{{ f.message }}. {{ f.cure }}</li></ul></template></div></div>
      <div class="row new-end"><button type="submit" :disabled="busy">{{ t(busy ? "shelf.making" : "shelf.make") }}</button><button type="button" class="plain" @click="$emit('close')">{{ t("shelf.leave") }}</button></div>
    </form>
  </Sheet>`,
};
