// Your machine and habits: settings that hold for whatever is sewn, in a sheet beside the work. It is opened from Take away, from the
// totals, and by findings that tell of one of its fields.
import { Sheet } from "/parts/sheet.js";
import { SettingsField } from "/parts/settings_field.js";
import { learn } from "/parts/settings_forms.js";
import { dayOf } from "/parts/settings_rows.js";
import { known } from "/parts/shelf_words.js";
import { t } from "/parts/texts.js";

const DAY = { name: "day", path: "piecing.day", kind: "day", usual: null };
const ERROR = ["piecing.shift", "piecing.turn"];
const RARE = ["piecing.chance", "piecing.trials", "piecing.seed"];

export const Habits = {
  components: { SettingsField, Sheet },
  props: { store: Object, place: String },
  emits: ["close"],
  data: () => ({ own: false, refused: null, at: null }),
  computed: {
    groups() {
      return (this.store.forms?.habits ?? []).map((group) => ({ key: group.key, rows: this.asked(group.rows), rare: group.rows.filter((row) => RARE.includes(row.path)) }));
    },
    /** The placing error is chosen by the day; its numbers are asked when they are the maker's own. */
    ownError() {
      return this.own || dayOf(this.store.project) === "own";
    },
  },
  watch: {
    "store.forms"() {
      this.$nextTick(this.lead);
    },
    place() {
      this.lead();
    },
  },
  async mounted() {
    this.own = ERROR.includes(this.place);
    await learn(this.store);
    this.$nextTick(this.lead);
  },
  methods: {
    t,
    asked(rows) {
      const shown = rows.filter((row) => !RARE.includes(row.path) && (this.ownError || !ERROR.includes(row.path)));
      const at = rows.findIndex((row) => row.path === ERROR[0]);
      return at < 0 ? shown : [...shown.slice(0, at), DAY, ...shown.slice(at)];
    },
    nameOf: (row) => t(`set.${row.path}`),
    aboutOf: (row) => known(`set.${row.path}.about`, ""),
    choiceOf: (row) => (value) => known(`set.${row.path}.${value}`, value),
    /** Bring the field that is asked for under the hand. */
    lead() {
      if (!this.place) return;
      const field = this.$refs.all?.querySelector(`[data-place="${this.place}"]`);
      if (!field) return;
      const folded = field.closest("details");
      if (folded) folded.open = true;
      field.scrollIntoView({ block: "center" });
      field.querySelector("input, select, textarea")?.focus();
    },
    async put(row, value) {
      this.at = row.path;
      this.refused = null;
      if (row.kind === "day") {
        this.own = value === null;
        if (value) await this.save(row, [{ path: ERROR[0], value: value[0] }, { path: ERROR[1], value: value[1] }]);
        return;
      }
      await this.save(row, [{ path: row.path, value }]);
    },
    async save(row, changes) {
      const old = this.store.trouble;
      await this.store.edit(t("did.set", { what: this.nameOf(row) }), changes);
      if (this.store.trouble === old || !this.store.trouble) return;
      const { message, cure, findings } = this.store.trouble;
      this.refused = findings?.[0] ?? { message, cure };
      this.store.trouble = null;
    },
  },
  template: `
  <Sheet :heading="t('set.title')" side @close="$emit('close')">
    <div ref="all" class="stack habits">
      <p class="quiet">{{ t("set.hint") }}</p>
      <p v-if="!store.online" class="trouble" role="status">{{ t("set.offline") }}</p>
      <section v-for="g in groups" :key="g.key" class="stack" :aria-labelledby="'habits-' + g.key">
        <h3 :id="'habits-' + g.key">{{ t("set.group." + g.key) }}</h3>
        <SettingsField v-for="row in g.rows" :key="row.path" :row="row" :store="store" :name="nameOf(row)" :about="aboutOf(row)" :choice="choiceOf(row)" :refused="at === row.path ? refused : null" @put="put" />
        <details v-if="g.rare.length" class="settings">
          <summary>{{ t("set.rare") }}</summary>
          <div class="stack"><SettingsField v-for="row in g.rare" :key="row.path" :row="row" :store="store" :name="nameOf(row)" :about="aboutOf(row)" :choice="choiceOf(row)" :refused="at === row.path ? refused : null" @put="put" /></div>
        </details>
      </section>
    </div>
  </Sheet>`,
};
