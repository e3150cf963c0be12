// The keys, for those who like to keep their hands on them.
import { Sheet } from "/parts/sheet.js";
import { t } from "/parts/texts.js";

const EVERYWHERE = ["help", "skip", "undo", "redo", "screens", "close"];
const DRAW = ["walk", "slide", "turn", "remove", "cut"];
const LAID = ["arrows", "turn", "size", "remove"];
const SEW = ["space", "arrows", "page", "ends", "zoom", "side"];

export const Help = {
  components: { Sheet },
  props: { at: String },
  emits: ["close"],
  computed: {
    groups() {
      const all = (head, keys, key) => ({ head, rows: keys.map((k) => [t(key(k)), t(`${key(k)}.does`)]) });
      const groups = [
        all(t("help.everywhere"), EVERYWHERE, (k) => `help.key.${k}`),
        all(t("frame.draw"), DRAW, (k) => `help.draw.${k}`),
        all(t("cloth.mode.laid"), LAID, (k) => `help.laid.${k}`),
        all(t("frame.sew"), SEW, (k) => `sew.key.${k}`),
      ];
      return this.at === "shelf" ? groups.slice(0, 1) : groups;
    },
  },
  methods: { t },
  template: `
  <Sheet :heading="t('help.title')" @close="$emit('close')">
    <section v-for="g in groups" :key="g.head" class="keys">
      <h3>{{ g.head }}</h3>
      <dl><div v-for="[key, does] in g.rows" :key="key + does"><dt><kbd>{{ key }}</kbd></dt><dd>{{ does }}</dd></div></dl>
    </section>
    <p class="quiet">{{ t("help.saved") }}</p>
  </Sheet>`,
};
