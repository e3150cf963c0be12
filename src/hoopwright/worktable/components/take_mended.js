// What must be mended before anything is made; pressing one goes to its place. Making it all the same is a choice of its own.
import { addressOf, goTo, inFileOnly, openHabits, screenOf } from "/parts/take_places.js";
import { sentence } from "/parts/take_rows.js";
import { inWords } from "/parts/shelf_words.js";
import { t, tn } from "/parts/texts.js";

export const TakeMended = {
  props: { store: Object, rows: Array, despite: Boolean, may: Boolean },
  emits: ["update:despite"],
  methods: {
    t,
    tn,
    inFileOnly,
    inWords,
    screenOf,
    sentence,
    href(row) {
      return addressOf(this.store.name, screenOf(row));
    },
    habit(row) {
      this.store.chosen = row;
      openHabits(this.store, row.path);
    },
    follow(row) {
      this.store.chosen = row;
      goTo(this.store.name, screenOf(row));
    },
  },
  template: `
  <section class="sheet stack take-mended" :aria-label="t('take.mend')">
    <h2>{{ t("take.mend") }}</h2>
    <p>{{ tn("take.mend.first", rows.length) }}</p>
    <ul>
      <li v-for="(row, i) in rows" :key="i" class="found blocks">
        <button v-if="screenOf(row) === 'take'" class="said" @click="store.chosen = row"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t("findings.show") }}</span></button>
        <button v-else-if="screenOf(row) === 'habits'" class="said" aria-haspopup="dialog" @click="habit(row)"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t("findings.show.habits") }}</span></button>
        <a v-else-if="screenOf(row)" class="said" :href="href(row)" @click.exact.prevent="follow(row)"><span>{{ inWords(sentence(row.message)) }}</span><span class="show">{{ t("findings.show." + screenOf(row)) }}</span></a>
        <p v-else class="said">{{ inWords(sentence(row.message)) }}</p>
        <p v-if="inFileOnly(row)" class="in-file">{{ t("findings.file") }} <span class="names">{{ row.path }}</span></p>
        <p v-if="row.cure" class="cure">{{ inWords(sentence(row.cure)) }}</p>
      </li>
    </ul>
    <label v-if="may" class="beside"><input type="checkbox" :checked="despite" @change="$emit('update:despite', $event.target.checked)">{{ t("take.despite") }}</label>
    <p v-if="despite && may" class="take-warning">{{ t("take.despite.warning") }}</p>
  </section>`,
};
