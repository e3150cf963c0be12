// The hoop, what the machine reads, the paper in the printer, the language printed on it, the units: settings of the project, saved like every other change.
import { sides, unitName } from "/parts/measures.js";
import { alone, toggled } from "/parts/take_kinds.js";
import { openHabits } from "/parts/take_places.js";
import { t } from "/parts/texts.js";

/** The settings here, as findings write them. */
const PLACES = ["hoop.field", "machine.halt_at", "machine.kinds", "paper", "language", "units"];
const PAPERS = ["A4", "Letter"];
const LANGUAGES = ["en", "de"];
const UNITS = ["mm", "in"];

export const TakeChoices = {
  props: { store: Object, offer: Object },
  data: () => ({ wanted: null, wide: matchMedia("(min-width: 72rem)").matches }), // wanted: the kinds as they were pressed, until they are saved
  computed: {
    kinds() {
      return this.wanted ?? this.store.project.machine.kinds;
    },
    all() {
      return this.offer.kinds.map((k) => k.key);
    },
    /** All choices in a line. */
    line() {
      const endings = this.offer.kinds.filter((k) => this.kinds.includes(k.key)).map((k) => k.ending);
      return [this.sides(...this.field), endings.join(" "), this.store.project.paper, t("take.language." + this.store.project.language), unitName(this.store.project.units)].join(" · ");
    },
    /** The hoop's field in mm, whichever way it is written in the project file. */
    field() {
      const own = this.store.project.hoop.field;
      return this.store.view?.field ?? (typeof own === "string" ? own.split("x").map(Number) : own);
    },
    fieldName() {
      const [width, height] = this.field;
      return this.offer.fields.find((f) => f.width === width && f.height === height)?.name ?? "own";
    },
    haltAt() {
      const at = this.store.project.machine.halt_at;
      return typeof at === "string" ? at : "place";
    },
    papers: () => PAPERS,
    languages: () => LANGUAGES,
    unitNames: () => UNITS,
  },
  watch: {
    "store.chosen"(found) {
      this.show(found);
    },
  },
  mounted() {
    this.show(this.store.chosen);
  },
  methods: {
    t,
    openHabits,
    alone,
    sides(width, height) {
      return sides([width, height], this.store.project.units);
    },
    /** A finding about one of the settings here opens them and leads to it. */
    show(found) {
      const place = PLACES.find((p) => (found?.path ?? "").startsWith(p));
      if (!place) return;
      this.$refs.all.open = true;
      requestAnimationFrame(() => this.$refs.all?.querySelector(`[data-place="${place}"] :is(input, select)`)?.focus());
    },
    setField(name) {
      if (name !== "own") this.store.edit(t("take.did.field"), [{ path: "hoop.field", value: name }]);
    },
    setHalt(at) {
      if (at !== "place") this.store.edit(t("take.did.halt"), [{ path: "machine.halt_at", value: at }]);
    },
    toggle(key, event) {
      if (alone(this.kinds, key)) event.target.checked = true;
      else this.take(toggled(this.all, this.kinds, key));
    },
    async take(kinds) {
      this.wanted = kinds;
      await this.store.edit(t("take.did.kinds"), [{ path: "machine.kinds", value: kinds }]);
      if (this.wanted === kinds) this.wanted = null;
    },
    setPaper(paper) {
      this.store.edit(t("take.did.paper"), [{ path: "paper", value: paper }]);
    },
    setLanguage(language) {
      this.store.edit(t("take.did.language"), [{ path: "language", value: language }]);
    },
    setUnits(units) {
      this.store.edit(t("take.did.units"), [{ path: "units", value: units }]);
    },
  },
  template: `
  <form class="sheet take-choices" @submit.prevent :aria-label="t('take.choices')">
  <details ref="all" :open="wide">
    <summary><h2>{{ t("take.choices") }}</h2><p class="quiet">{{ line }}</p></summary>
    <div class="stack">
    <label class="take-line" data-place="hoop.field">{{ t("take.field") }}<select :value="fieldName" @change="setField($event.target.value)">
      <option v-for="f in offer.fields" :key="f.name" :value="f.name">{{ sides(f.width, f.height) }}</option>
      <option v-if="fieldName === 'own'" value="own">{{ t("take.field.own", { size: sides(...field) }) }}</option>
    </select></label>
    <label class="take-line" data-place="machine.halt_at">{{ t("take.halt") }}<select :value="haltAt" @change="setHalt($event.target.value)">
      <option value="stay">{{ t("take.halt.stay") }}</option>
      <option value="front">{{ t("take.halt.front") }}</option>
      <option v-if="haltAt === 'place'" value="place">{{ t("take.halt.place") }}</option>
    </select></label>
    <fieldset data-place="machine.kinds">
      <legend>{{ t("take.kinds") }}</legend>
      <p id="take-kinds-hint" class="quiet">{{ t("take.kinds.hint") }}</p>
      <div class="take-kinds">
        <div v-for="k in offer.kinds" :key="k.key" class="take-kind" :class="{ on: kinds.includes(k.key) }">
          <label class="beside"><input type="checkbox" :checked="kinds.includes(k.key)" aria-describedby="take-kinds-hint" @change="toggle(k.key, $event)">
          <span class="ending">{{ k.ending }}</span><span class="quiet">{{ t("take.colours." + k.colours) }}</span></label>
          <button v-if="!alone(kinds, k.key)" type="button" class="plain slim" :aria-label="t('take.kinds.only.name', { ending: k.ending })" @click="take([k.key])">{{ t("take.kinds.only") }}</button>
        </div>
      </div>
      <p v-if="kinds.length === 1" class="quiet">{{ t("take.kinds.last") }}</p>
      <button v-if="kinds.length < all.length" type="button" class="plain take-all" @click="take(all)">{{ t("take.kinds.all") }}</button>
    </fieldset>
    <fieldset data-place="paper">
      <legend>{{ t("take.paper") }}</legend>
      <div class="row">
        <label v-for="p in papers" :key="p" class="beside"><input type="radio" name="paper" :value="p" :checked="store.project.paper === p" @change="setPaper(p)">{{ t("take.paper." + p) }}</label>
      </div>
    </fieldset>
    <fieldset data-place="language">
      <legend>{{ t("take.language") }}</legend>
      <div class="row">
        <label v-for="l in languages" :key="l" class="beside"><input type="radio" name="language" :value="l" :checked="store.project.language === l" @change="setLanguage(l)">{{ t("take.language." + l) }}</label>
      </div>
    </fieldset>
    <fieldset data-place="units">
      <legend>{{ t("take.units") }}</legend>
      <div class="row">
        <label v-for="u in unitNames" :key="u" class="beside"><input type="radio" name="units" :value="u" :checked="store.project.units === u" @change="setUnits(u)">{{ t("take.units." + u) }}</label>
      </div>
    </fieldset>
    <p><button type="button" class="plain" aria-haspopup="dialog" @click="openHabits(store)">{{ t("set.title") }}</button><span class="quiet take-habits">{{ t("take.habits") }}</span></p>
    </div>
  </details>
  </form>`,
};
