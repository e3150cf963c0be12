// What lies in the folder beside the project already, and whether it still fits.
import { size } from "/parts/take_rows.js";
import { t, texts, tn } from "/parts/texts.js";

export const TakeFolder = {
  props: { folder: Object, home: String },
  computed: {
    when() {
      return new Date(this.folder.when * 1000).toLocaleString(texts.language, { dateStyle: "long", timeStyle: "short" });
    },
    papers() {
      return ["templates.pdf", "booklet.pdf"].filter((name) => this.folder.files.some((file) => file.name === name));
    },
    all() {
      return size(this.folder.files.reduce((sum, file) => sum + file.size, 0), texts.language);
    },
  },
  methods: {
    t,
    tn,
    size: (bytes) => size(bytes, texts.language),
  },
  template: `
  <section class="sheet stack take-folder" :aria-label="t('take.folder')">
    <h2>{{ t("take.folder") }}</h2>
    <p class="quiet"><span class="names">{{ folder.where }}</span></p>
    <template v-if="folder.since">
      <p>{{ t("take.folder.when", { when }) }}</p>
      <p class="since" :class="folder.since"><span class="sign" aria-hidden="true"></span>{{ t("take.since." + folder.since) }}</p>
      <p v-if="folder.blocked" class="take-warning">{{ t("take.stamped") }}</p>
      <div v-if="papers.length" class="row"><a v-for="p in papers" :key="p" class="button plain" target="_blank" rel="noopener" :href="home + '/folder/' + p">{{ t("take." + p.split(".")[0]) }}</a></div>
      <details><summary>{{ t("take.files", { n: folder.files.length, size: all }) }}</summary><ul class="slip-files"><li v-for="f in folder.files" :key="f.name"><span class="names">{{ f.name }}</span><span class="much">{{ size(f.size) }}</span></li></ul></details>
    </template>
    <p v-if="folder.foreign.length" class="take-warning">{{ t("take.foreign", { names: folder.foreign.join(", ") }) }}</p>
  </section>`,
};
