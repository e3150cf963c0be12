// The threads: names, colours, what each is used for, and those of the working lines.
import { freeKey, usesOfThread } from "/parts/cloth_changes.js";
import { t } from "/parts/texts.js";

const LINES = ["layout", "seam", "hold", "outline"];
const FRESH = "#8a4b5c";

export const ClothThreads = {
  props: { store: Object },
  data: () => ({ open: null, refused: null }),
  computed: {
    project() {
      return this.store.project;
    },
    threads() {
      return this.project.threads;
    },
    first() {
      return Object.keys(this.threads)[0];
    },
    lines: () => LINES,
  },
  methods: {
    t,
    uses(key) {
      const names = usesOfThread(this.project, this.store.view, key).map((use) => t(`cloth.use.${use}`));
      return names.length ? names.join(", ") : t("cloth.use.none");
    },
    put(key, values, what = "thread.changed") {
      const changes = Object.entries(values).map(([part, value]) => ({ path: `threads.${key}.${part}`, value }));
      this.store.edit(t(`cloth.did.${what}`, { name: this.threads[key].name }), changes);
    },
    rename(key, event) {
      const name = event.target.value.trim();
      if (name) this.put(key, { name });
      else event.target.value = this.threads[key].name;
    },
    tint(key, event) {
      this.store.attempt([{ path: `threads.${key}.colour`, value: event.target.value }]);
    },
    thick(key, event) {
      const tex = Number(event.target.value.replace(",", "."));
      if (tex > 1 && tex <= 400) this.put(key, { tex });
      else event.target.value = this.threads[key].tex;
    },
    async add() {
      const name = t("cloth.thread.new");
      const key = freeKey(name, Object.keys(this.threads));
      await this.store.edit(t("cloth.did.thread.added"), [{ path: `threads.${key}`, value: { name, colour: FRESH } }]);
      this.open = key;
      this.$nextTick(() => document.getElementById(`thread-name-${key}`)?.select());
    },
    remove(key) {
      const uses = usesOfThread(this.project, this.store.view, key);
      if (Object.keys(this.threads).length === 1) this.refused = { key, said: t("cloth.refuse.thread.last") };
      else if (uses.length) this.refused = { key, said: t("cloth.refuse.thread", { name: this.threads[key].name, uses: uses.map((u) => t(`cloth.use.${u}`)).join(", ") }) };
      else {
        this.refused = null;
        this.store.edit(t("cloth.did.thread.removed", { name: this.threads[key].name }), [{ path: `threads.${key}`, value: null }]);
      }
    },
    guide(line, event) {
      this.store.edit(t("cloth.did.guide"), [{ path: `guides.${line}`, value: event.target.value || null }]);
    },
    turn(key) {
      this.open = this.open === key ? null : key;
      this.refused = null;
    },
  },
  template: `
  <section class="stack" :aria-label="t('cloth.mode.thread')">
    <ul class="cloth-rows">
      <li v-for="(thread, key) in threads" :key="key">
        <div class="cloth-row"><i class="spool-dot large" :style="{ background: thread.colour }" aria-hidden="true"></i><span class="cloth-row-words"><strong>{{ thread.name }}</strong><span class="quiet small">{{ uses(key) }}</span></span>
          <button type="button" class="plain" :aria-expanded="open === key" @click="turn(key)">{{ t("cloth.change") }}<span class="unseen"> {{ thread.name }}</span></button></div>
        <form v-if="open === key" class="cloth-form stack" @submit.prevent>
          <div class="row">
            <label>{{ t("cloth.name") }}<input :id="'thread-name-' + key" :value="thread.name" maxlength="80" @change="rename(key, $event)"></label>
            <label>{{ t("cloth.colour") }}<input type="color" :value="thread.colour.toLowerCase()" @input="tint(key, $event)" @change="put(key, { colour: $event.target.value })" @blur="store.saving || store.settle()"></label>
            <label>{{ t("cloth.tex") }}<input :value="thread.tex" size="5" inputmode="decimal" @change="thick(key, $event)"></label>
          </div>
          <div class="row"><button type="button" class="plain" @click="remove(key)">{{ t("cloth.thread.remove") }}</button></div>
          <p v-if="refused && refused.key === key" role="alert" class="wrong">{{ refused.said }}</p>
        </form>
      </li>
    </ul>
    <button type="button" class="plain" @click="add">{{ t("cloth.thread.add") }}</button>
    <h3>{{ t("cloth.guides") }}</h3>
    <p class="quiet small">{{ t("cloth.guides.hint") }}</p>
    <div class="row"><label v-for="line in lines" :key="line">{{ t("cloth.guide." + line) }}<select :value="project.guides[line] ?? ''" @change="guide(line, $event)"><option value="">{{ t("cloth.guide.first", { name: threads[first].name }) }}</option><option v-for="(thread, key) in threads" :key="key" :value="key">{{ thread.name }}</option></select></label></div>
  </section>`,
};
