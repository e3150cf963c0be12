// What the machine reads, the paper in the printer, the units: settings of the project, saved like every other change.
import { t } from "/parts/texts.js";

const PAPERS = ["A4", "Letter"];
const UNITS = ["mm", "in"];

export const TakeChoices = {
  props: { store: Object, offer: Object },
  data: () => ({ wanted: null, wide: matchMedia("(min-width: 72rem)").matches }), // wanted: the kinds as they were pressed, until they are saved
  computed: {
    kinds() {
      return this.wanted ?? this.store.project.machine.kinds;
    },
    /** All choices in a line. */
    line() {
      const endings = this.offer.kinds.filter((k) => this.kinds.includes(k.key)).map((k) => k.ending);
      return [endings.join(" "), this.store.project.paper, this.store.project.units].join(" · ");
    },
    papers: () => PAPERS,
    unitNames: () => UNITS,
  },
  methods: {
    t,
    /** The last kind stays: without a stitch file there is nothing to sew from. */
    last(key) {
      return this.kinds.length === 1 && this.kinds[0] === key;
    },
    async toggle(key, event) {
      if (this.last(key)) {
        event.target.checked = true;
        return;
      }
      const on = this.kinds.includes(key) ? this.kinds.filter((k) => k !== key) : [...this.kinds, key];
      const mine = (this.wanted = this.offer.kinds.map((k) => k.key).filter((k) => on.includes(k)));
      await this.store.edit(t("take.did.kinds"), [{ path: "machine.kinds", value: mine }]);
      if (this.wanted === mine) this.wanted = null;
    },
    setPaper(paper) {
      this.store.edit(t("take.did.paper"), [{ path: "paper", value: paper }]);
    },
    setUnits(units) {
      this.store.edit(t("take.did.units"), [{ path: "units", value: units }]);
    },
  },
  template: `
  <form class="sheet take-choices" @submit.prevent :aria-label="t('take.choices')">
  <details :open="wide">
    <summary><h2>{{ t("take.choices") }}</h2><p class="quiet">{{ line }}</p></summary>
    <div class="stack">
    <fieldset>
      <legend>{{ t("take.kinds") }}</legend>
      <p id="take-kinds-hint" class="quiet">{{ t("take.kinds.hint") }}</p>
      <div class="take-kinds">
        <label v-for="k in offer.kinds" :key="k.key" class="take-kind" :class="{ on: kinds.includes(k.key) }">
          <input type="checkbox" :checked="kinds.includes(k.key)" aria-describedby="take-kinds-hint" @change="toggle(k.key, $event)">
          <span class="ending">{{ k.ending }}</span><span class="quiet">{{ t("take.colours." + k.colours) }}</span>
        </label>
      </div>
      <p v-if="kinds.length === 1" class="quiet">{{ t("take.kinds.last") }}</p>
    </fieldset>
    <fieldset>
      <legend>{{ t("take.paper") }}</legend>
      <div class="row">
        <label v-for="p in papers" :key="p" class="beside"><input type="radio" name="paper" :value="p" :checked="store.project.paper === p" @change="setPaper(p)">{{ t("take.paper." + p) }}</label>
      </div>
    </fieldset>
    <fieldset>
      <legend>{{ t("take.units") }}</legend>
      <div class="row">
        <label v-for="u in unitNames" :key="u" class="beside"><input type="radio" name="units" :value="u" :checked="store.project.units === u" @change="setUnits(u)">{{ t("take.units." + u) }}</label>
      </div>
    </fieldset>
    </div>
  </details>
  </form>`,
};
