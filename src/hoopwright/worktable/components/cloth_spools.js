// Threads to choose from: a spool and a name each.
import { led } from "/parts/pointing.js";
import { t } from "/parts/texts.js";

export const ClothSpools = {
  props: { threads: Object, now: String, label: String, none: { type: String, default: "" } },
  emits: ["take", "show"],
  created() {
    this.shown = undefined;
  },
  methods: {
    t,
    /** A thread is shown when the hand is led to it, not when the page moves under the hand. */
    over(key, event) {
      if (!led(event) || this.shown === key) return;
      this.shown = key;
      this.$emit("show", key);
    },
    out() {
      this.shown = undefined;
      this.$emit("show", undefined);
    },
  },
  template: `
  <div class="spools" role="group" :aria-label="label">
    <span class="spools-label" aria-hidden="true">{{ label }}</span>
    <div class="spools-row" @pointerleave="out">
      <button v-if="none" type="button" class="plain spool" :aria-pressed="now === null" @click="$emit('take', null)">{{ none }}</button>
      <button v-for="(thread, key) in threads" :key="key" type="button" class="plain spool" :aria-pressed="now === key" @click="$emit('take', key)" @pointermove="over(key, $event)"><i class="spool-dot" :style="{ background: thread.colour }" aria-hidden="true"></i>{{ thread.name }}</button>
    </div>
  </div>`,
};
