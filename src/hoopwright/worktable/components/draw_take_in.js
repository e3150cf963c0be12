// Drawings and sketches from outside: an SVG drawing becomes the pieces; a photograph lies under them to be traced over.
import { ask, of, spoken, Trouble } from "/parts/ask.js";
import { rescaled } from "/parts/draw_sheet.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const LARGEST = 12e6;
const LONGEST = 2400; // pixels: a larger photograph is made smaller before it is sent

/** Send a file. @param {string} path @param {Blob} data @param {string} type */
async function send(path, data, type) {
  let answer;
  try {
    answer = await fetch(path, { method: "POST", headers: { "content-type": type, ...spoken() }, body: data });
  } catch {
    throw new Trouble("offline", "", 0);
  }
  const text = await answer.text();
  let said = {};
  try {
    said = JSON.parse(text);
  } catch {
    said = { message: text };
  }
  if (answer.ok) return said;
  throw new Trouble(said.message ?? String(said.detail ?? text), said.cure ?? "", answer.status);
}

/** A photograph no larger than is needed; as it is when the browser cannot read it. @param {File} file */
async function smaller(file) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const k = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
    if (k === 1 && file.size < LARGEST / 2) return file;
    const canvas = new OffscreenCanvas(Math.round(picture.width * k), Math.round(picture.height * k));
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    return await canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 });
  } catch {
    return file;
  }
}

export const DrawTakeIn = {
  props: { store: Object, panel: Object, marks: Array, tool: String, sheet: Object },
  emits: ["update:sheet", "save", "tool"],
  data: () => ({ trouble: null, busy: false, wrong: false, stamp: 0 }),
  async mounted() {
    try {
      this.show(await ask(`${of(this.store.name)}/draw/sketch`));
    } catch {
      this.show(null);
    }
  },
  computed: {
    units() {
      return this.store.project.units;
    },
    apart() {
      const [a, b] = this.marks;
      return b ? length(Math.hypot(a[0] - b[0], a[1] - b[1]), this.units) : "";
    },
  },
  methods: {
    t,
    show(sheet) {
      this.$emit("update:sheet", sheet ? { ...sheet, address: `${of(this.store.name)}/draw/sketch.jpg?${this.stamp}` } : null);
    },
    async work(job) {
      this.busy = true;
      this.trouble = null;
      try {
        await job();
      } catch (error) {
        this.trouble = error;
      }
      this.busy = false;
    },
    drawing(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (!file) return;
      this.work(async () => {
        const said = await send(`${of(this.store.name)}/draw/drawing?called=${encodeURIComponent(file.name)}`, file, "image/svg+xml");
        this.$emit("save", t("did.drawing"), { patchwork: { way: "drawing", file: said.file }, order: null, first: null });
      });
    },
    photo(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (!file) return;
      this.work(async () => {
        const xs = this.panel.outline.map((p) => p[0]);
        const wide = Math.max(...xs) - Math.min(...xs);
        const sheet = await send(`${of(this.store.name)}/draw/sketch?wide=${wide}`, await smaller(file), "image/jpeg");
        this.stamp += 1;
        this.show(sheet);
      });
    },
    /** Keep how the sketch lies. */
    keep(sheet) {
      const { x, y, scale, turn, seen, shown } = sheet;
      return this.work(() => ask(`${of(this.store.name)}/draw/sketch/lay`, { x, y, scale, turn, seen, shown }));
    },
    set(key, value, rest = true) {
      const sheet = { ...this.sheet, [key]: value };
      this.$emit("update:sheet", sheet);
      if (rest) this.keep(sheet);
    },
    trueLength(event) {
      const mm = readLength(event.target.value, this.units);
      this.wrong = mm === null || mm <= 0;
      if (this.wrong || this.marks.length < 2) return;
      const sheet = rescaled(this.sheet, this.marks[0], this.marks[1], mm);
      this.$emit("update:sheet", sheet);
      this.keep(sheet);
      this.$emit("tool", "move");
    },
    remove() {
      this.work(async () => {
        await ask(`${of(this.store.name)}/draw/sketch/remove`, {});
        this.show(null);
        this.$emit("tool", "move");
      });
    },
  },
  template: `
  <details class="sheet" :open="sheet !== null">
    <summary><h2>{{ t("draw.take") }}</h2></summary>
    <div class="stack">
      <div class="row tight">
        <label class="button plain file">{{ t("draw.take.drawing") }}<input type="file" class="unseen" accept=".svg,image/svg+xml" :disabled="busy" @change="drawing"></label>
        <label class="button plain file">{{ t(sheet ? "draw.take.other" : "draw.take.sketch") }}<input type="file" class="unseen" accept="image/jpeg,image/png,image/webp" :disabled="busy" @change="photo"></label>
      </div>
      <p v-if="trouble" class="order-note blocked" role="alert"><span>{{ trouble.message }} {{ trouble.cure }}</span></p>
      <template v-if="sheet">
        <label class="beside"><input type="checkbox" :checked="sheet.shown" @change="set('shown', $event.target.checked)">{{ t("draw.sketch.show") }}</label>
        <label>{{ t("draw.sketch.seen") }}<input type="range" min="0.1" max="1" step="0.05" :value="sheet.seen" @input="set('seen', Number($event.target.value), false)" @change="keep(sheet)"></label>
        <label>{{ t("draw.sketch.turn", { degrees: Math.round(sheet.turn) }) }}<input type="range" min="-180" max="180" step="1" :value="sheet.turn" @input="set('turn', Number($event.target.value), false)" @change="keep(sheet)"></label>
        <div class="row tight">
          <button class="plain" :aria-pressed="tool === 'mark'" @click="$emit('tool', tool === 'mark' ? 'move' : 'mark')">{{ t("draw.sketch.measure") }}</button>
          <button class="plain" @click="remove">{{ t("draw.sketch.remove") }}</button>
        </div>
        <label v-if="tool === 'mark' && marks.length === 2">{{ t("draw.sketch.apart") }}<input size="8" :value="apart" :aria-invalid="wrong ? 'true' : null" @change="trueLength"></label>
        <p v-if="wrong" role="alert">{{ t("draw.number.wrong") }}</p>
      </template>
    </div>
  </details>`,
};
