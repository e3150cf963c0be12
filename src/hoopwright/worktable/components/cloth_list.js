// The cloths: one is pressed to give it to the chosen piece; each can be renamed, coloured, printed, taken away.
import { freeKey, usesOfCloth } from "/parts/cloth_changes.js";
import { ClothPiece } from "/parts/cloth_defs.js";
import { ClothLook } from "/parts/cloth_look.js";
import { decimal, readLength } from "/parts/measures.js";
import { led } from "/parts/pointing.js";
import { t, tn } from "/parts/texts.js";

const KINDS = ["cloth", "lining", "stiffener", "ribbon", "zip"];
const FRESH = "#b9a77c";
const REST_MS = 120;

export const ClothList = {
  components: { ClothPiece, ClothLook },
  props: { store: Object, panel: Object, letter: String, looks: Object },
  emits: ["looks"],
  data: () => ({ open: null, refused: null, wrong: null }),
  created() {
    this.resting = 0;
    this.looked = null;
    this.shown = false; // whether a cloth is shown on the piece that is only under the hand
  },
  unmounted() {
    clearTimeout(this.resting);
  },
  computed: {
    project() {
      return this.store.project;
    },
    cloths() {
      return this.project.cloths;
    },
    piece() {
      return this.panel?.patches.find((p) => p.letter === this.letter) ?? null;
    },
    /** The cloth the piece has, not one that is only being tried on it. */
    now() {
      return this.store.view?.panels.flatMap((p) => p.patches).find((p) => p.letter === this.letter)?.cloth ?? null;
    },
    given() {
      return this.letter !== null && this.letter in this.project.panel.cloths;
    },
    groups() {
      const all = Object.entries(this.cloths);
      const rest = all.filter(([, c]) => c.kind !== "cloth");
      return [{ title: null, rows: all.filter(([, c]) => c.kind === "cloth") }, ...(rest.length ? [{ title: t("cloth.others"), rows: rest }] : [])];
    },
    kinds: () => KINDS,
  },
  methods: {
    t,
    uses(key) {
      const { patches, parts } = usesOfCloth(this.project, this.store.view, key);
      const words = [patches.length ? tn("cloth.use.pieces", patches.length, { letters: patches.join(", ") }) : null, parts ? t("cloth.use.parts") : null].filter(Boolean);
      return words.length ? words.join("; ") : t("cloth.use.none");
    },
    change(key) {
      return [{ path: `panel.cloths.${this.letter}`, value: key }];
    },
    give(key) {
      clearTimeout(this.resting);
      this.shown = false; // what is given stays in sight
      if (!this.piece) return;
      this.store.edit(t("cloth.did.given", { letter: this.letter, name: this.cloths[key].name }), this.change(key));
    },
    over(key, event) {
      if (led(event) && this.looked !== key) this.look(key);
    },
    look(key) {
      clearTimeout(this.resting);
      this.looked = key;
      if (!this.piece || key === this.now) return this.leave();
      this.resting = setTimeout(() => {
        this.shown = true;
        this.store.attempt(this.change(key));
      }, REST_MS);
    },
    leave() {
      clearTimeout(this.resting);
      this.looked = null;
      if (this.shown) this.store.settle();
      this.shown = false;
    },
    propose() {
      this.store.edit(t("cloth.did.proposed", { letter: this.letter }), this.change(null));
    },
    put(key, values) {
      const changes = Object.entries(values).map(([part, value]) => ({ path: `cloths.${key}.${part}`, value }));
      this.store.edit(t("cloth.did.cloth.changed", { name: this.cloths[key].name }), changes);
    },
    rename(key, event) {
      const name = event.target.value.trim();
      if (name) this.put(key, { name });
      else event.target.value = this.cloths[key].name;
    },
    tint(key, event) {
      this.store.attempt([{ path: `cloths.${key}.colour`, value: event.target.value }]);
    },
    thickness(mm) {
      return `${decimal(mm, 2)} mm`;
    },
    thick(key, event) {
      const mm = readLength(event.target.value, "mm");
      this.wrong = mm === null || mm <= 0 || mm > 5 ? key : null;
      if (!this.wrong) this.put(key, { thickness: Math.round(mm * 100) / 100 });
    },
    async add() {
      const name = t("cloth.new");
      const key = freeKey(name, [...Object.keys(this.cloths), ...Object.keys(this.looks)]);
      await this.store.edit(t("cloth.did.cloth.added"), [{ path: `cloths.${key}`, value: { name, colour: FRESH } }]);
      this.open = key;
      this.$nextTick(() => document.getElementById(`cloth-name-${key}`)?.select());
    },
    remove(key) {
      const { patches, parts, last } = usesOfCloth(this.project, this.store.view, key);
      const name = this.cloths[key].name;
      const said = patches.length ? tn("cloth.refuse.pieces", patches.length, { name, letters: patches.join(", ") }) : parts ? t("cloth.refuse.parts", { name }) : last ? t("cloth.refuse.last", { name }) : null;
      this.refused = said ? { key, said } : null;
      if (!said) this.store.edit(t("cloth.did.cloth.removed", { name }), [{ path: `cloths.${key}`, value: null }]);
    },
    turn(key) {
      this.open = this.open === key ? null : key;
      this.refused = null;
      this.wrong = null;
    },
  },
  template: `
  <section class="stack" :aria-label="t('cloth.mode.cloth')">
    <div v-if="piece" class="row cloth-which"><h3>{{ t(given ? "cloth.piece.is" : "cloth.piece.proposed", { letter, cloth: cloths[now]?.name ?? t("cloth.none") }) }}</h3><button v-if="given" type="button" class="plain" @click="propose">{{ t("cloth.propose") }}</button></div>
    <p v-else-if="panel" class="quiet">{{ t("cloth.press") }}</p>
    <template v-for="(group, g) in groups" :key="g">
      <h3 v-if="group.title">{{ group.title }}</h3>
      <ul class="cloth-rows" :aria-label="piece ? t('cloth.give', { letter }) : null" @pointerleave="leave">
        <li v-for="[key, cloth] in group.rows" :key="key">
          <div class="cloth-row">
            <button v-if="cloth.kind === 'cloth' && piece" type="button" class="plain give" :aria-pressed="now === key" @click="give(key)" @pointermove="over(key, $event)" @focus="look(key)" @blur="leave"><ClothPiece :name="store.name" :looks="looks" :cloths="cloths" :of="key" :prefix="'list-' + key" /><span class="cloth-row-words"><strong>{{ cloth.name }}</strong><span class="small">{{ uses(key) }}{{ cloth.has_up ? " · " + t("cloth.up") : "" }}</span></span></button>
            <span v-else class="give"><ClothPiece :name="store.name" :looks="looks" :cloths="cloths" :of="key" :prefix="'list-' + key" /><span class="cloth-row-words"><strong>{{ cloth.name }}</strong><span class="small quiet">{{ cloth.kind === "cloth" ? uses(key) : t("cloth.kind." + cloth.kind) }}{{ cloth.has_up ? " · " + t("cloth.up") : "" }}</span></span></span>
            <button type="button" class="plain" :aria-expanded="open === key" @click="turn(key)">{{ t("cloth.change") }}<span class="unseen"> {{ cloth.name }}</span></button>
          </div>
          <form v-if="open === key" class="cloth-form stack" @submit.prevent>
            <div class="row">
              <label>{{ t("cloth.name") }}<input :id="'cloth-name-' + key" :value="cloth.name" maxlength="80" @change="rename(key, $event)"></label>
              <label>{{ t("cloth.colour") }}<input type="color" :value="cloth.colour.toLowerCase()" @input="tint(key, $event)" @change="put(key, { colour: $event.target.value })" @blur="store.saving || store.settle()"></label>
              <label>{{ t("cloth.thickness") }}<input :value="thickness(cloth.thickness)" size="8" :aria-invalid="wrong === key ? 'true' : null" @change="thick(key, $event)"></label>
              <label>{{ t("cloth.kind") }}<select :value="cloth.kind" @change="put(key, { kind: $event.target.value })"><option v-for="k in kinds" :key="k" :value="k">{{ t("cloth.kind." + k) }}</option></select></label>
            </div>
            <p v-if="wrong === key" role="alert" class="wrong">{{ t("cloth.wrong.thickness") }}</p>
            <label class="beside"><input type="checkbox" :checked="cloth.has_up" @change="put(key, { has_up: $event.target.checked })">{{ t("cloth.has_up") }}</label>
            <ClothLook :store="store" :of="key" :looks="looks" @looks="$emit('looks', $event)" @colour="put(key, { colour: $event })" />
            <div class="row"><button type="button" class="plain" @click="remove(key)">{{ t("cloth.remove") }}</button></div>
            <p v-if="refused && refused.key === key" role="alert" class="wrong">{{ refused.said }}</p>
          </form>
        </li>
      </ul>
    </template>
    <button type="button" class="plain" @click="add">{{ t("cloth.add") }}</button>
  </section>`,
};
