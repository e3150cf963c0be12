// How a cloth looks: plain, a drawn print, or a photograph. Kept beside the project; the project file knows only the colour.
import { ask, of as at, spoken, Trouble } from "/parts/ask.js";
import { ClothPhoto } from "/parts/cloth_photo.js";
import { PRINTS, USUAL } from "/parts/cloth_prints.js";
import { length, readLength } from "/parts/measures.js";
import { t } from "/parts/texts.js";

const INK = "#f4efe2";
const BOUNDS = { size: [0.5, 100], gap: [0, 100] };
const MOST_SIDE = 2400; // pixels of a photograph that is sent
const MOST_BYTES = 4e6; // of one that is sent as it is

export const ClothLook = {
  components: { ClothPhoto },
  props: { store: Object, of: String, looks: Object },
  emits: ["looks", "colour"],
  data: () => ({ trouble: null, wrong: null, busy: false }),
  computed: {
    look() {
      return this.looks[this.of] ?? null;
    },
    way() {
      return this.look?.way ?? "plain";
    },
    ways: () => ["plain", ...PRINTS, "photo"],
    units() {
      return this.store.project.units;
    },
  },
  methods: {
    t,
    shown(mm) {
      return length(mm, this.units);
    },
    async put(look) {
      this.trouble = null;
      try {
        this.$emit("looks", (await ask(`${at(this.store.name)}/cloth/look/${this.of}`, { look })).looks);
      } catch (error) {
        this.trouble = error;
      }
    },
    choose(way) {
      if (way === "photo") this.$refs.file.click();
      else if (way === "plain") this.put(null);
      else this.put({ way, colour: this.look?.colour ?? INK, ...USUAL[way] });
    },
    putLength(key, event) {
      const mm = readLength(event.target.value, this.units);
      const [low, high] = BOUNDS[key];
      this.wrong = mm === null || mm < low || mm > high ? key : null;
      if (!this.wrong) this.put({ ...this.look, [key]: Math.round(mm * 100) / 100 });
    },
    async photo(event) {
      const file = event.target.files[0];
      event.target.value = "";
      if (!file) return;
      this.trouble = null;
      this.busy = true;
      try {
        const said = await this.sent(await smaller(file));
        await this.put({ way: "photo", photo: said.photo, pixels: said.pixels, width: 100 });
        this.$emit("colour", said.colour);
      } catch (error) {
        this.trouble = error;
      } finally {
        this.busy = false;
      }
    },
    async sent(body) {
      let answer;
      try {
        answer = await fetch(`${at(this.store.name)}/cloth/photo/${this.of}`, { method: "POST", headers: { "content-type": "application/octet-stream", ...spoken() }, body, cache: "no-store" });
      } catch {
        throw new Trouble(t("trouble.offline"));
      }
      const text = await answer.text();
      if (answer.ok) return JSON.parse(text);
      let said = { message: text, cure: "" };
      try {
        said = JSON.parse(text);
      } catch {
        // the sentence stands alone
      }
      throw new Trouble(said.message, said.cure, answer.status);
    },
  },
  template: `
  <fieldset class="cloth-look">
    <legend>{{ t("cloth.look") }}</legend>
    <div class="row looks"><button v-for="w in ways" :key="w" type="button" class="plain" :aria-pressed="way === w" :disabled="busy" @click="choose(w)">{{ t("cloth.look." + w) }}</button></div>
    <input ref="file" type="file" accept="image/jpeg,image/png,image/webp" hidden @change="photo">
    <p v-if="trouble" role="alert" class="wrong">{{ trouble.message }} {{ trouble.cure }}</p>
    <div v-if="look && look.way !== 'photo'" class="row">
      <label>{{ t("cloth.print.colour") }}<input type="color" :value="look.colour.toLowerCase()" @change="put({ ...look, colour: $event.target.value })"></label>
      <label>{{ t("cloth.print.size") }}<input :value="shown(look.size)" size="7" :aria-invalid="wrong === 'size' ? 'true' : null" @change="putLength('size', $event)"></label>
      <label>{{ t("cloth.print.gap") }}<input :value="shown(look.gap)" size="7" :aria-invalid="wrong === 'gap' ? 'true' : null" @change="putLength('gap', $event)"></label>
      <label class="slider">{{ t("cloth.print.turn", { turn: look.turn }) }}<input type="range" min="-90" max="90" step="5" :value="look.turn" @change="put({ ...look, turn: Number($event.target.value) })"></label>
    </div>
    <p v-if="wrong" role="alert" class="wrong">{{ t("cloth.wrong.print") }}</p>
    <ClothPhoto v-if="look && look.way === 'photo'" :store="store" :look="look" @put="put" />
    <p class="quiet small">{{ t("cloth.look.hint") }}</p>
  </fieldset>`,
};

/** A photograph with no more pixels than are of use, so that little has to be sent; as it is where the browser cannot read it. @param {File} file */
async function smaller(file) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const part = Math.min(1, MOST_SIDE / Math.max(picture.width, picture.height));
    if (part === 1 && file.size < MOST_BYTES) return file;
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * part);
    canvas.height = Math.round(picture.height * part);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    return (await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9))) ?? file;
  } catch {
    return file;
  }
}
