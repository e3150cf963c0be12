// At the machine, on the maker's own screen: the halts, and above them a narrow frame with sharing.
import { ask, of } from "/parts/ask.js";
import { MachineView } from "/parts/machine_view.js";
import { SharePanel, sharing } from "/parts/machine_share.js";
import { loadTexts, t, texts } from "/parts/texts.js";

const LIGHT = "hoopwright.light";
const nameHere = () => decodeURIComponent(location.pathname.split("/")[2] ?? "");

export const MachinePage = {
  components: { SharePanel },
  data: () => ({ ready: false, name: nameHere(), sharing, panel: false, light: localStorage.getItem(LIGHT) ?? "auto" }),
  async mounted() {
    this.shine();
    await loadTexts();
    this.ready = true;
    await this.$nextTick();
    document.title = `${t("machine.title")} · Hoopwright`;
    this.view = new MachineView(this.$refs.root, {
      ask: (path, body = null) => ask(`${of(this.name)}/machine${path}`, body),
      t,
      pictures: `${of(this.name)}/machine/pictures`,
    });
    await this.view.start();
  },
  unmounted() {
    this.view?.stop();
  },
  computed: {
    language: {
      get: () => texts.language,
      set: (language) => loadTexts(language),
    },
    languages: () => texts.languages,
    home() {
      return `/project/${encodeURIComponent(this.name)}/sew`;
    },
  },
  watch: {
    language() {
      this.$nextTick(() => this.view?.again());
    },
  },
  methods: {
    t,
    shine() {
      if (this.light === "auto") delete document.documentElement.dataset.light;
      else document.documentElement.dataset.light = this.light;
    },
    turnLight() {
      this.light = { auto: "day", day: "evening", evening: "auto" }[this.light];
      localStorage.setItem(LIGHT, this.light);
      this.shine();
    },
  },
  template: `
  <div v-if="ready" class="m-frame">
    <div class="m-bar" :class="{ on: sharing.on }">
      <a class="button plain" :href="home">{{ t("machine.home") }}</a>
      <span class="m-space"></span>
      <button class="plain m-share" :class="{ on: sharing.on }" :aria-expanded="String(panel)" @click="panel = !panel">{{ t(sharing.on ? "machine.share.is" : "machine.share") }}</button>
      <button class="plain" @click="turnLight">{{ t("frame.light." + light) }}</button>
      <select v-model="language" :aria-label="t('frame.language')"><option v-for="l in languages" :key="l.code" :value="l.code">{{ l.name }}</option></select>
    </div>
    <SharePanel v-if="panel" :name="name" @close="panel = false" />
    <div ref="root"></div>
  </div>`,
};
