// A sheet laid over the page: a window of its own with a heading; Escape, the cross and a press beside it put it away.
import { t } from "/parts/texts.js";

export const Sheet = {
  props: { heading: String, side: Boolean },
  emits: ["close"],
  mounted() {
    this.before = document.activeElement;
    this.$refs.sheet.showModal();
  },
  unmounted() {
    if (this.before instanceof HTMLElement && this.before.isConnected) this.before.focus();
  },
  methods: {
    t,
    beside(event) {
      if (event.target === this.$refs.sheet) this.$emit("close");
    },
  },
  template: `
  <dialog ref="sheet" class="over" :class="{ side }" :aria-label="heading" @close="$emit('close')" @cancel.prevent="$emit('close')" @mousedown="beside">
    <div class="over-sheet">
      <header class="over-head"><h2>{{ heading }}</h2><button class="plain" autofocus @click="$emit('close')">{{ t("frame.close") }}</button></header>
      <slot />
    </div>
  </dialog>`,
};
