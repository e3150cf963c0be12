// One setting: its name, what it means, its field, its limits, its usual value, and the way back to it.
import { length, sides } from "/parts/measures.js";
import { DAYS, dayOf, fieldSaved, fieldSize, isUsual, isWrong, limits, read, same, saved, soldOf, usualSaid, valueOf, written } from "/parts/settings_rows.js";
import { inWords } from "/parts/shelf_words.js";
import { sentence } from "/parts/take_rows.js";
import { t } from "/parts/texts.js";

const UNTOLD = 1e6; // limits beyond it only hold what cannot be stored

export const SettingsField = {
  props: { row: Object, store: Object, name: String, about: String, choice: Function, refused: Object },
  emits: ["put"],
  data: () => ({ wrong: false, own: false, texts: null, draft: null }),
  computed: {
    project() {
      return this.store.project;
    },
    units() {
      return this.project.units;
    },
    value() {
      return valueOf(this.row, this.project);
    },
    shown() {
      return written(this.row, this.value, this.units);
    },
    usual() {
      return isUsual(this.row, this.project);
    },
    limits() {
      return this.row.kind === "lengths" || this.row.most > UNTOLD ? "" : limits(this.row, this.units);
    },
    /** The usual value in words; empty where what suits is found out by the worktable. */
    usualSaid() {
      const { kind, usual } = this.row;
      if (this.row.path === "foundation.batting") return t("set.none");
      if (usual === null || ["texts", "lengths", "ground"].includes(kind)) return "";
      if (kind === "flag") return t(usual ? "set.yes" : "set.no");
      if (kind === "choice") return this.choice(usual);
      if (kind === "field") return sides(fieldSize(this.row, usual), this.units);
      return usualSaid(this.row, this.units);
    },
    /** What a setting that names a cloth or a thread may name. */
    named() {
      const all = this.row.kind === "thread" ? this.project.threads : this.project.cloths;
      return Object.entries(all).map(([key, { name }]) => ({ key, name }));
    },
    spacing() {
      const { spacing } = this.value;
      return spacing === undefined || spacing === null ? "" : written({ ...this.row, kind: "length" }, spacing, this.units);
    },
    size() {
      return this.row.kind === "field" ? fieldSize(this.row, this.value) : [];
    },
    sold() {
      return this.own ? "own" : (soldOf(this.row, this.size)?.name ?? "own");
    },
    id() {
      return `set-${this.row.path.replaceAll(".", "-")}`;
    },
    /** Whether the way back to the usual is a press of its own; where it is one of the choices, it is not. */
    goesBack() {
      return !this.usual && !["cloth", "thread"].includes(this.row.kind) && !(this.row.kind === "choice" && this.row.usual === null);
    },
    said() {
      return [this.about && `${this.id}-about`, (this.limits || this.usualSaid) && `${this.id}-limits`, (this.wrong || this.refused) && `${this.id}-wrong`].filter(Boolean).join(" ") || null;
    },
    bad() {
      return this.wrong || this.refused ? "true" : null;
    },
    days: () => [...Object.keys(DAYS), "own"],
    day() {
      return dayOf(this.project);
    },
    typed() {
      return ["length", "whole", "number", "share", "text"].includes(this.row.kind);
    },
  },
  watch: {
    /** What was typed gives way to what holds now. */
    value() {
      this.wrong = false;
      this.texts = null;
      this.draft = null;
    },
  },
  methods: {
    t,
    inWords,
    length,
    sentence,
    sides,
    /** Save what was typed, if it can be. */
    put(text) {
      this.wrong = isWrong(this.row, text, this.units);
      this.draft = text === this.shown ? null : text;
      if (this.wrong || this.draft === null) return;
      const value = saved(this.row, text, this.units);
      if (same(read(this.row, value), this.value)) this.draft = null;
      else this.$emit("put", this.row, value);
    },
    putPart(i, text) {
      const texts = [...(this.texts ?? this.shown)];
      texts[i] = text;
      this.texts = texts;
      if (texts.every((x) => !x.trim())) return this.shown.every((x) => !x) ? undefined : this.$emit("put", this.row, null);
      if (texts.some((x) => !x.trim())) return undefined; // the others are still to be typed
      this.wrong = isWrong(this.row, texts, this.units);
      if (!this.wrong && JSON.stringify(texts) !== JSON.stringify(this.shown)) this.$emit("put", this.row, saved(this.row, texts, this.units));
      return undefined;
    },
    partLimits(i) {
      return limits({ ...this.row, kind: "length", ...this.row.bounds?.[i] }, this.units);
    },
    putSold(name) {
      this.own = name === "own";
      if (!this.own) this.$emit("put", this.row, name);
    },
    putSide(i, text) {
      const side = saved({ ...this.row, kind: "length" }, text, this.units);
      const mm = read({ ...this.row, kind: "length" }, side);
      this.wrong = isWrong({ ...this.row, kind: "length", ...this.row.bounds }, text, this.units) || typeof mm !== "number";
      if (!this.wrong) this.$emit("put", this.row, fieldSaved(this.row, this.size.map((s, k) => (k === i ? mm : s))));
    },
    /** Another kind of ground takes its own spacing. */
    putGround({ kind }) {
      const { spacing: _, angle: __, ...rest } = this.value;
      this.$emit("put", this.row, { ...rest, kind });
    },
    putSpacing(text) {
      const row = { ...this.row, kind: "length", usual: null, ...this.row.bounds };
      this.wrong = isWrong(row, text, this.units);
      const { spacing: _, ...rest } = this.value;
      const spacing = saved(row, text, this.units);
      if (!this.wrong && text !== this.spacing) this.$emit("put", this.row, spacing === null ? rest : { ...rest, spacing });
    },
    putDay(day) {
      this.own = day === "own";
      this.$emit("put", this.row, this.own ? null : DAYS[day]);
    },
    suit() {
      this.wrong = false;
      this.own = false;
      this.texts = null;
      this.draft = null;
      this.$emit("put", this.row, null);
    },
  },
  template: `
  <div class="setting" :class="'of-' + row.kind" :data-place="row.path">
    <label v-if="row.kind === 'flag'" class="beside"><input :id="id" type="checkbox" :checked="shown" :aria-describedby="said" @change="put($event.target.checked)">{{ name }}</label>
    <label v-else-if="row.kind === 'choice'">{{ name }}<select :id="id" :value="shown" :aria-describedby="said" :aria-invalid="bad" @change="put($event.target.value)"><option v-if="row.usual === null" value="">{{ t("shelf.auto") }}</option><option v-for="c in row.choices" :key="c" :value="c">{{ choice(c) }}</option></select></label>
    <label v-else-if="row.kind === 'cloth' || row.kind === 'thread'">{{ name }}<select :id="id" :value="shown" :aria-describedby="said" :aria-invalid="bad" @change="put($event.target.value)"><option value="">{{ t("shelf.auto") }}</option><option v-for="c in named" :key="c.key" :value="c.key">{{ c.name }}</option></select></label>
    <label v-else-if="row.kind === 'texts'">{{ name }}<textarea :id="id" :value="shown" rows="3" :aria-describedby="said" @change="put($event.target.value)"></textarea></label>
    <fieldset v-else-if="row.kind === 'lengths'"><legend>{{ name }}</legend><div class="row tight"><label v-for="(_, i) in row.count" :key="i">{{ t(row.count === 2 && i ? "make.height" : "shelf.side." + i) }}<input :id="i ? null : id" :value="(texts ?? shown)[i]" :placeholder="row.example ? t('shelf.example', { value: length(row.example[i], units) }) : null" inputmode="decimal" size="7" autocomplete="off" :aria-invalid="bad" @change="putPart(i, $event.target.value)"><span v-if="partLimits(i)" class="limits">{{ partLimits(i) }}</span></label></div></fieldset>
    <fieldset v-else-if="row.kind === 'field'"><legend class="unseen">{{ name }}</legend>
      <label>{{ name }}<select :id="id" :value="sold" :aria-describedby="said" @change="putSold($event.target.value)"><option v-for="f in row.sold" :key="f.name" :value="f.name">{{ sides([f.width, f.height], units) }}</option><option value="own">{{ t("set.field.own") }}</option></select></label>
      <div v-if="sold === 'own'" class="row tight"><label v-for="(side, i) in size" :key="i">{{ t(i ? "make.height" : "make.width") }}<input :value="length(side, units)" inputmode="decimal" size="7" autocomplete="off" :aria-invalid="bad" @change="putSide(i, $event.target.value)"></label></div>
    </fieldset>
    <fieldset v-else-if="row.kind === 'ground'"><legend class="unseen">{{ name }}</legend>
      <label>{{ name }}<select :id="id" :value="value.kind" :aria-describedby="said" @change="putGround({ kind: $event.target.value })"><option v-for="c in row.choices" :key="c" :value="c">{{ choice(c) }}</option></select></label>
      <label v-if="value.kind !== 'none'">{{ t("cloth.ground.spacing") }}<input :value="spacing" inputmode="decimal" size="7" autocomplete="off" :placeholder="t('shelf.auto')" :aria-invalid="bad" @change="putSpacing($event.target.value)"></label>
    </fieldset>
    <fieldset v-else-if="row.kind === 'day'"><legend>{{ name }}</legend><label v-for="d in days" :key="d" class="beside"><input type="radio" :name="id" :value="d" :checked="(own ? 'own' : day) === d" @change="putDay(d)">{{ t("set.day." + d) }}</label></fieldset>
    <label v-else-if="typed">{{ name }}<input :id="id" :value="draft ?? shown" :inputmode="row.kind === 'text' ? null : 'decimal'" autocomplete="off" :placeholder="row.usual === null ? t(row.path === 'foundation.batting' ? 'set.none' : 'shelf.auto') : null" :aria-describedby="said" :aria-invalid="bad" @change="put($event.target.value)"></label>
    <p v-if="about" :id="id + '-about'" class="setting-about">{{ about }}</p>
    <div v-if="limits || usualSaid || goesBack" class="setting-foot">
      <p v-if="limits || usualSaid" :id="id + '-limits'" class="limits" :class="{ 'said-wrong': wrong }">{{ [limits, usualSaid && t("set.usual", { value: usualSaid })].filter(Boolean).join(" · ") }}</p>
      <button v-if="goesBack" type="button" class="plain suits" :aria-label="t('set.suits.of', { name })" @click="suit">{{ t("set.suits") }}</button>
    </div>
    <p v-if="wrong || refused" :id="id + '-wrong'" class="limits said-wrong" role="alert">{{ refused ? inWords(sentence(refused.message) + " " + sentence(refused.cure)) : t("set.wrong") }}</p>
    <slot />
  </div>`,
};
