// Threads to choose from: a spool and a name each.
import { t } from "/parts/texts.js";

export const ClothSpools = {
  props: { threads: Object, now: String, label: String, none: { type: String, default: "" } },
  emits: ["take", "show"],
  methods: { t },
  template: `
  <div class="spools" role="group" :aria-label="label">
    <span class="spools-label" aria-hidden="true">{{ label }}</span>
    <div class="spools-row" @pointerleave="$emit('show', undefined)">
      <button v-if="none" type="button" class="plain spool" :aria-pressed="now === null" @click="$emit('take', null)">{{ none }}</button>
      <button v-for="(thread, key) in threads" :key="key" type="button" class="plain spool" :aria-pressed="now === key" @click="$emit('take', key)" @pointerenter="$emit('show', key)"><i class="spool-dot" :style="{ background: thread.colour }" aria-hidden="true"></i>{{ thread.name }}</button>
    </div>
  </div>`,
};
