// The run sheet as it lies beside the hoop: halts and blocks of every hooping, the present one marked.
import { halts } from "/parts/player_timing.js";
import { t } from "/parts/texts.js";

/** What the hands do, in a few words. */
export function workOf(moment, names) {
  const name = names[moment.piece];
  const piece = name ? (name.patch ? t("sew.piece.patch", { sign: name.sign }) : name.sign) : "";
  const words = t(`sew.work.${moment.work}`);
  return piece && ["lay", "flip", "trim", "open"].includes(moment.work) ? `${words}: ${piece}` : words;
}

const LONGEST = 44; // letters of other handwork on the run sheet

/** How a sentence begins, in whole words. @param {string} sentence */
export function beginning(sentence) {
  const first = sentence.split(/[.:;]/)[0];
  if (first.length <= LONGEST) return first;
  return `${first.slice(0, LONGEST).replace(/\s+\S*$/, "")} …`;
}

export const SewList = {
  props: { sheets: Array, moments: Array, at: Number },
  emits: ["jump"],
  computed: {
    groups() {
      return this.sheets.map((sheet, hooping) => ({
        title: sheet.title,
        rows: this.moments.map((m, at) => ({ m, at })).filter(({ m }) => m.hooping === hooping).map(({ m, at }) => this.row(m, at, sheet)),
      }));
    },
  },
  watch: {
    at: {
      handler() {
        this.$nextTick(this.follow);
      },
      immediate: true,
    },
  },
  methods: {
    t,
    row(m, at, sheet) {
      if (m.work === "hand") return { at, hand: true, halt: halts(this.moments, at), text: beginning(m.sentence) };
      if (m.kind === "hand") return { at, hand: true, halt: halts(this.moments, at), text: workOf(m, sheet.names) };
      return { at, hand: false, number: m.number, text: m.title, colour: m.colour, minutes: this.minutes(m.minutes) };
    },
    minutes(all) {
      return all < 1 ? t("sew.seconds", { n: Math.max(1, Math.round(all * 60)) }) : t("sew.minutes", { n: Math.round(all) });
    },
    /** Keep the present row in sight within the sheet, without moving the page. */
    follow() {
      const list = this.$refs.list;
      const row = list?.querySelector("[aria-current]");
      if (!row) return;
      const top = row.offsetTop;
      if (top < list.scrollTop + 24 || top + row.offsetHeight > list.scrollTop + list.clientHeight - 24) list.scrollTop = top - list.clientHeight / 3;
    },
  },
  template: `
  <div class="runsheet" ref="list" tabindex="-1">
    <section v-for="(g, k) in groups" :key="k">
      <h3><span class="quiet" v-if="groups.length > 1">{{ k + 1 }}</span> {{ g.title }}</h3>
      <ol>
        <li v-for="r in g.rows" :key="r.at" :class="{ 'rs-halt': r.halt, 'rs-hand': r.hand }">
          <button :aria-current="r.at === at ? 'step' : null" @click="$emit('jump', r.at)">
            <span v-if="r.hand" class="rs-sign" aria-hidden="true"></span>
            <span v-else class="rs-number" >{{ r.number }}<i :style="{ backgroundColor: r.colour }"></i></span>
            <span class="rs-what">{{ r.text }}</span>
            <span v-if="!r.hand" class="rs-long">{{ r.minutes }}</span>
          </button>
        </li>
      </ol>
    </section>
  </div>`,
};
