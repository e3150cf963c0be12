// Sizes and make: what the item was begun with, to be changed at any time. The panel and its cuts change with it.
import { resize } from "/parts/resizing.js";
import { SettingsField } from "/parts/settings_field.js";
import { grouped } from "/parts/shelf_form.js";
import { choiceOf, known, settingOf } from "/parts/shelf_words.js";
import { sides } from "/parts/measures.js";
import { t } from "/parts/texts.js";

export const MakeForm = {
  components: { SettingsField },
  props: { store: Object, open: Boolean },
  data: () => ({ said: null, refused: null, field: null, at: null, waits: null }),
  computed: {
    rows() {
      return this.store.forms?.make ?? [];
    },
    groups() {
      const kinds = (row) => row.kind === "cloth" || row.kind === "thread";
      const sizes = grouped(this.rows.filter((row) => !kinds(row))).map((g) => ({ ...g, title: g.folded ? t("shelf.settings.more") : null }));
      const cloths = this.rows.filter(kinds);
      return [...sizes, ...(cloths.length ? [{ key: "cloths", rows: cloths, folded: true, title: t("make.cloths") }] : [])];
    },
    /** The finished size, laid flat. */
    size() {
      return this.store.finished.slice(0, 2).map((size) => sides(size, this.store.project.units)).join(", ");
    },
    /** Where the outline is the item's own, its turn stands here. */
    turn() {
      return this.store.project.panel.outline.shape === "item" ? (this.store.forms?.turn ?? null) : null;
    },
    roomier() {
      return this.field ? sides(this.field.split("x").map(Number), this.store.project.units) : "";
    },
  },
  watch: {
    "store.chosen"(found) {
      this.lead(found);
    },
    "store.forms"() {
      this.$nextTick(() => this.lead(this.store.chosen));
    },
    "store.version"() {
      if (!this.keeps) this.said = null;
      this.refused = null;
      this.field = null;
    },
  },
  mounted() {
    this.lead(this.store.chosen);
  },
  methods: {
    t,
    settingOf,
    /** What a setting means; that 0 leaves something out is told where it may be 0. */
    aboutOf: (row) => [known(row.kind === "choice" ? `make.${row.name}.which` : `make.${row.name}.about`, known(`make.${row.name}.about`, "")), row.kind === "length" && row.least === 0 ? known(`make.${row.name}.zero`, "") : ""].filter(Boolean).join(" "),
    choiceOf(row) {
      if (row.kind === "ground") return (value) => known(`ground.${value}`, value);
      if (row.name === "border") return (value) => known(`make.border.${value}`, known(`stitch.${value}`, value));
      return (value) => choiceOf(row.name, value);
    },
    /** A finding about one of the settings opens them and leads to its field. */
    lead(found) {
      const path = found?.path ?? "";
      if (!/^(make|panel\.turn)/.test(path) || !this.rows.length) return;
      this.$refs.all.open = true;
      this.$nextTick(() => {
        const row = this.$refs.all.querySelector(`[data-place="${path.replace(/\\[\\d+\\]$/, "").split(".").slice(0, 2).join(".")}"]`);
        const folded = row?.closest("details.settings");
        if (folded) folded.open = true;
        (row ?? this.$refs.all).querySelector("input, select, textarea")?.focus();
      });
    },
    put(row, value) {
      this.at = row.path;
      return this.change(t("did.make", { what: settingOf(row.name) }), [{ path: row.path, value }]);
    },
    async change(what, changes) {
      this.refused = null;
      this.field = null;
      this.said = null;
      this.keeps = true;
      try {
        const came = await resize(this.store, what, changes);
        this.refused = came.refused ?? null;
        this.field = came.field ?? null;
        this.waits = { what, changes };
        this.said = came.said ? t(...came.said) : null;
      } finally {
        this.$nextTick(() => (this.keeps = false));
      }
    },
    putTurn(row, value) {
      return this.store.edit(t("did.turn"), [{ path: row.path, value }]);
    },
    /** Make the change after all, in the hoop that holds it. */
    withRoom() {
      const { what, changes } = this.waits;
      return this.change(what, [...changes, { path: "hoop.field", value: this.field }]);
    },
  },
  template: `
  <details v-if="rows.length" ref="all" class="sheet make-form" :open="open">
    <summary><h2>{{ t("make.title") }}</h2></summary>
    <p v-if="size" class="make-size">{{ t("make.finished") }} <strong>{{ size }}</strong></p>
    <form class="stack" @submit.prevent :aria-label="t('make.title')">
      <component v-for="g in groups" :is="g.folded ? 'details' : 'div'" :key="g.key" class="settings">
        <summary v-if="g.folded">{{ g.title }}</summary>
        <div class="stack">
          <SettingsField v-for="row in g.rows" :key="row.path" :row="row" :store="store" :name="settingOf(row.name)" :about="aboutOf(row)" :choice="choiceOf(row)" :refused="at === row.path ? refused : null" @put="put">
            <p v-if="at === row.path && said" class="size-said">{{ said }}</p>
            <button v-if="at === row.path && field" type="button" @click="withRoom">{{ t("size.roomier", { field: roomier }) }}</button>
          </SettingsField>
        </div>
      </component>
      <SettingsField v-if="turn" :row="turn" :store="store" :name="t('set.panel.turn')" :about="t('set.panel.turn.about')" @put="putTurn" />
      <p role="status" class="unseen">{{ said }}</p>
    </form>
  </details>`,
};
