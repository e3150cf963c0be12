// What must be told about saving: no answer, no room, another window, a folder that is away. The work is kept in each case.
import { t, tn } from "/parts/texts.js";

/** Refusals that the page says in its own words. */
const OWN = { 409: "trouble.409", 507: "trouble.507" };

export const Notices = {
  props: { store: Object },
  computed: {
    rows() {
      const store = this.store;
      const rows = [];
      if (store.gone && store.version < 0) rows.push({ key: "gone", message: t("trouble.never"), cure: t("trouble.never.cure"), shelf: true });
      else if (store.gone) rows.push({ key: "gone", message: t("trouble.gone"), cure: t("trouble.gone.cure"), shelf: true });
      else if (!store.online) rows.push({ key: "offline", message: t("trouble.offline"), cure: store.waiting ? tn("trouble.waiting", store.waiting) : t("trouble.offline.cure") });
      const trouble = store.trouble;
      if (trouble && trouble.status in OWN) rows.push({ key: "trouble", message: t(OWN[trouble.status]), cure: t(`${OWN[trouble.status]}.cure`), away: true });
      else if (trouble) rows.push({ key: "trouble", message: trouble.message, cure: trouble.cure, findings: trouble.findings, away: true });
      return rows;
    },
  },
  methods: {
    t,
    put() {
      this.store.trouble = null;
    },
  },
  template: `
  <div role="alert">
    <div v-for="row in rows" :key="row.key" class="trouble">
      <div>
        <p><strong>{{ row.message }}.</strong> {{ row.cure }}</p>
        <ul v-if="row.findings?.length"><li v-for="(f, i) in row.findings" :key="i">{{ f.message }}. {{ f.cure }}</li></ul>
      </div>
      <a v-if="row.shelf" class="button plain" href="/">{{ t("frame.home") }}</a>
      <button v-if="row.away" class="plain" @click="put">{{ t("frame.put") }}</button>
    </div>
  </div>
  <div role="status">
    <div v-if="store.elsewhere && store.readable && !rows.length" class="trouble mild"><p>{{ t("trouble.elsewhere") }}</p><button class="plain" @click="store.elsewhere = false">{{ t("frame.put") }}</button></div>
  </div>`,
};
