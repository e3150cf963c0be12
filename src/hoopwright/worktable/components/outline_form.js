// The outline in numbers, and how the panel lies in the hoop. Cuts go along with a new size or shape.
import { bare, bound, length, readLength } from "/parts/measures.js";
import { resize } from "/parts/resizing.js";
import { SettingsField } from "/parts/settings_field.js";
import { sentence } from "/parts/take_rows.js";
import { t } from "/parts/texts.js";

const SIDES = { rectangle: ["width", "height", "radius"], flap: ["width", "height", "radius"], tongue: ["width", "height", "tip", "radius"], ellipse: ["width", "height"] };
const LARGEST = 1000; // mm, of a side

/** Between which lengths a number of an outline may lie. @param {Record<string, any>} outline @param {string} key @returns {[number, number]} */
export function limitsOf(outline, key) {
  const { width = LARGEST, height = LARGEST, tip = 0 } = outline;
  if (key === "radius") return [0, Math.min(width / 2, height - tip)];
  return key === "tip" ? [0, height] : [1, LARGEST];
}

export const OutlineForm = {
  components: { SettingsField },
  props: { store: Object },
  data: () => ({ wrong: null, said: null, refused: null }),
  computed: {
    outline() {
      return this.store.project.panel.outline;
    },
    keys() {
      return SIDES[this.outline.shape] ?? [];
    },
    shapes: () => Object.keys(SIDES),
    units() {
      return this.store.project.units;
    },
    turn() {
      return this.store.forms?.turn ?? null;
    },
  },
  watch: {
    "store.chosen"(found) {
      this.lead(found);
    },
    "store.version"() {
      if (!this.keeps) this.said = null;
      this.refused = null;
      this.wrong = null;
    },
  },
  mounted() {
    this.lead(this.store.chosen);
  },
  methods: {
    t,
    sentence,
    shown(key) {
      return length(this.outline[key] ?? 0, this.units);
    },
    limits(key) {
      const [least, most] = limitsOf(this.outline, key);
      return t("shelf.limits", { least: bare(bound(least, this.units, "least")), most: bound(most, this.units, "most") });
    },
    /** A finding about the outline opens it and leads to its field. */
    lead(found) {
      const [, key] = /^panel\.(turn|outline(?:\.\w+)?)/.exec(found?.path ?? "") ?? [];
      if (!key) return;
      this.$refs.all.open = true;
      this.$nextTick(() => (this.$refs.all.querySelector(`[data-place="panel.${key}"] :is(input, select)`) ?? this.$refs.all.querySelector("input, select"))?.focus());
    },
    put(key, event) {
      if (event.target.value === this.shown(key)) return;
      const value = readLength(event.target.value, this.units);
      const [least, most] = limitsOf(this.outline, key);
      this.wrong = value === null || value < least - 0.005 || value > most + 0.005 ? key : null;
      if (!this.wrong) this.change({ ...this.plain(), [key]: Math.round(value * 100) / 100 });
    },
    plain() {
      return Object.fromEntries(Object.entries(this.outline).filter(([key, value]) => value !== null && !(key === "radius" && value === 0)));
    },
    reshape(event) {
      const shape = event.target.value;
      const { width = 100, height = 80 } = this.outline;
      const least = Math.min(width, height);
      const more = { flap: { radius: Math.round(least * 0.35) }, rectangle: {}, ellipse: {}, tongue: { tip: Math.round(height * 0.25) } }[shape];
      this.change({ shape, width, height, ...more });
    },
    async change(outline) {
      this.keeps = true;
      this.refused = null;
      this.said = null;
      try {
        const came = await resize(this.store, t("did.outline"), [{ path: "panel.outline", value: outline }]);
        this.refused = came.refused ?? null;
        this.said = came.said ? t(...came.said) : null;
      } finally {
        this.$nextTick(() => (this.keeps = false));
      }
    },
    putTurn(row, value) {
      return this.store.edit(t("did.turn"), [{ path: row.path, value }]);
    },
  },
  template: `
  <details ref="all" class="sheet">
    <summary><h2>{{ t("draw.outline") }}</h2></summary>
    <form class="stack" @submit.prevent :aria-label="t('draw.outline')">
      <template v-if="keys.length">
        <label data-place="panel.outline.shape">{{ t("draw.outline.shape") }}<select :value="outline.shape" @change="reshape"><option v-for="s in shapes" :key="s" :value="s">{{ t("draw.shape." + s) }}</option></select></label>
        <div class="numbers">
          <label v-for="key in keys" :key="key" :data-place="'panel.outline.' + key">{{ t("draw.outline." + key) }}<input :value="shown(key)" :aria-invalid="wrong === key ? 'true' : null" :aria-describedby="'outline-' + key" size="7" @change="put(key, $event)"><span :id="'outline-' + key" class="limits" :class="{ 'said-wrong': wrong === key }">{{ limits(key) }}</span></label>
        </div>
        <p v-if="wrong" role="alert">{{ t("draw.number.wrong") }}</p>
        <p v-if="refused" role="alert" class="limits said-wrong">{{ sentence(refused.message) }} {{ sentence(refused.cure) }}</p>
        <p role="status" class="size-said" :class="{ unseen: !said }">{{ said }}</p>
      </template>
      <p v-else class="quiet">{{ t("draw.outline.drawn") }}</p>
      <SettingsField v-if="turn" :row="turn" :store="store" :name="t('set.panel.turn')" :about="t('set.panel.turn.about')" @put="putTurn" />
    </form>
  </details>`,
};
