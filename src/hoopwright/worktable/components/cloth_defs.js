// Prints and photographs as patterns of a drawing in mm, and a small piece of one cloth for lists.
import { of } from "/parts/ask.js";
import { tile } from "/parts/cloth_prints.js";

/** Where a photograph is shown from. @param {string} name @param {{ photo: string }} look */
export const photoAt = (name, look) => `${of(name)}/cloth/photo/${look.photo}.jpg`;

/** What a cloth is filled with. @param {string} prefix @param {Record<string, object>} looks @param {string | null} key @param {string} colour */
export const paintOf = (prefix, looks, key, colour) => (key !== null && key in looks ? `url(#${prefix}-${key})` : colour);

/** One pattern for every look. */
export const ClothDefs = {
  props: { name: String, looks: Object, cloths: Object, prefix: String },
  computed: {
    rows() {
      return Object.entries(this.looks).filter(([key]) => key in this.cloths).map(([key, look]) => this.row(key, look));
    },
  },
  methods: {
    row(key, look) {
      const id = `${this.prefix}-${key}`;
      const under = this.cloths[key].colour;
      if (look.way !== "photo") return { id, under, ...tile(look) };
      const high = (look.width * look.pixels[1]) / look.pixels[0];
      return { id, under, wide: look.width, high, turn: 0, marks: [], photo: photoAt(this.name, look) };
    },
  },
  template: `
  <defs>
    <pattern v-for="p in rows" :key="p.id" :id="p.id" patternUnits="userSpaceOnUse" :width="p.wide" :height="p.high" :patternTransform="'rotate(' + p.turn + ')'">
      <rect :width="p.wide" :height="p.high" :fill="p.under" />
      <image v-if="p.photo" :href="p.photo" :width="p.wide" :height="p.high" preserveAspectRatio="none" />
      <component v-for="(m, i) in p.marks" :key="i" :is="m.is" v-bind="m.set" />
    </pattern>
  </defs>`,
};

/** A piece of cloth 24 by 16 mm. */
export const ClothPiece = {
  components: { ClothDefs },
  props: { name: String, looks: Object, cloths: Object, of: String, prefix: { type: String, default: "piece" } },
  computed: {
    own() {
      return this.of in this.looks ? { [this.of]: this.looks[this.of] } : {};
    },
    paint() {
      return paintOf(this.prefix, this.own, this.of, this.cloths[this.of].colour);
    },
  },
  template: `<svg class="cloth-piece" viewBox="0 0 24 16" aria-hidden="true"><ClothDefs :name="name" :looks="own" :cloths="cloths" :prefix="prefix" /><rect width="24" height="16" :fill="paint" /></svg>`,
};
