// What was found about the project, what must be mended first; pressing one shows its place, on whichever screen that is.
// On narrow screens it is a strip with the numbers that opens; while nothing is to be mended or minded it is a narrow one on wide screens too.
import { addressOf, goTo, inFileOnly, openHabits, screenOf } from "/parts/take_places.js";
import { cureOf } from "/parts/finding_cures.js";
import { again, grouped, sentence, SEVERITIES } from "/parts/take_rows.js";
import { inWords } from "/parts/shelf_words.js";
import { t, tn } from "/parts/texts.js";

export const Findings = {
  props: { store: Object, at: String },
  data: () => ({ open: false }),
  computed: {
    rows() {
      return this.all(this.store.tried ?? this.store.view);
    },
    groups() {
      return grouped(this.rows);
    },
    counts() {
      return SEVERITIES.map((severity) => ({ severity, n: this.rows.filter((row) => row.severity === severity).length })).filter((c) => c.n);
    },
    /** Said aloud when a change is done, not while a hand drags. */
    spoken() {
      const rows = this.all(this.store.view);
      const said = SEVERITIES.map((s) => [s, rows.filter((row) => row.severity === s).length]).filter(([, n]) => n);
      return said.length ? said.map(([s, n]) => this.count(s, n)).join(", ") : t("findings.none");
    },
  },
  watch: {
    /** What a trial found is gone with it: nothing is left to be open. */
    rows(rows) {
      if (!rows.length) this.open = false;
    },
    "store.view"() {
      this.store.chosen = again(this.all(this.store.view), this.store.chosen);
    },
  },
  methods: {
    t,
    inFileOnly,
    inWords,
    screenOf,
    sentence,
    count: (severity, n) => tn(`findings.count.${severity}`, n),
    all(view) {
      return [...this.store.problems, ...(view?.findings ?? [])];
    },
    elsewhere(row) {
      const screen = screenOf(row);
      return screen !== null && screen !== "habits" && screen !== this.at;
    },
    href(row) {
      return addressOf(this.store.name, screenOf(row));
    },
    choose(row) {
      this.store.chosen = this.isChosen(row) ? null : row;
      if (this.store.chosen) this.open = false;
    },
    /** Open the sheet of machine and habits at a finding's field. */
    habit(row) {
      this.store.chosen = row;
      this.open = false;
      openHabits(this.store, row.path);
    },
    follow(row) {
      this.store.chosen = row;
      this.open = false;
      goTo(this.store.name, screenOf(row));
    },
    /** A cure that one press can take. */
    atOnce(card) {
      return cureOf(card.rows[0], this.store.project);
    },
    mend(card) {
      const { did, changes } = this.atOnce(card);
      return this.store.edit(t(did), changes);
    },
    isChosen(row) {
      return this.store.chosen !== null && again([row], this.store.chosen) === row && this.store.chosen.message === row.message;
    },
  },
  template: `
  <aside class="findings" :class="{ open }" :aria-label="t('findings.title')">
    <p class="unseen" aria-live="polite">{{ spoken }}</p>
    <h2 class="findings-head">
      <span class="findings-title">{{ t(rows.length ? "findings.title" : "findings.none") }}</span>
      <span v-if="!rows.length" class="findings-strip">{{ t("findings.none") }}</span>
      <button v-else class="plain findings-strip" :aria-expanded="open" aria-controls="findings-list" @click="open = !open">
        <span v-for="c in counts" :key="c.severity" class="findings-count" :class="c.severity"><span class="sign" aria-hidden="true"></span>{{ count(c.severity, c.n) }}</span>
        <span class="turn" aria-hidden="true"></span>
      </button>
    </h2>
    <div id="findings-list" class="findings-list">
      <component :is="g.severity === 'notes' ? 'details' : 'section'" v-for="g in groups" :key="g.severity" class="findings-group" :class="g.severity">
        <component :is="g.severity === 'notes' ? 'summary' : 'h3'" class="findings-of"><span class="sign" aria-hidden="true"></span>{{ count(g.severity, g.count) }}</component>
        <ul>
          <li v-for="card in g.cards" :key="card.key" class="found" :class="g.severity">
            <ul>
              <li v-for="(row, i) in card.rows" :key="i">
                <a v-if="elsewhere(row)" class="said" :href="href(row)" @click.exact.prevent="follow(row)"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t("findings.show." + screenOf(row)) }}</span></a>
                <button v-else-if="screenOf(row) === 'habits'" class="said" aria-haspopup="dialog" @click="habit(row)"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t("findings.show.habits") }}</span></button>
                <button v-else-if="screenOf(row)" class="said" :aria-pressed="isChosen(row)" @click="choose(row)"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t(isChosen(row) ? "findings.shown" : "findings.show") }}</span></button>
                <p v-else class="said">{{ inWords(sentence(row.message)) }}</p>
                <p v-if="inFileOnly(row)" class="in-file">{{ t("findings.file") }} <span class="names">{{ row.path }}</span></p>
              </li>
            </ul>
            <p v-if="card.cure" class="cure">{{ inWords(sentence(card.cure)) }}</p>
            <button v-if="atOnce(card)" class="plain at-once" @click="mend(card)">{{ t(atOnce(card).says) }}</button>
          </li>
        </ul>
      </component>
    </div>
  </aside>`,
};
