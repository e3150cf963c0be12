// Sharing the halts with a device in the same room: off unless it is turned on here; while it is on, every screen says so.
import { reactive } from "vue";
import { ask } from "/parts/ask.js";
import { decimal } from "/parts/measures.js";
import { t, tn } from "/parts/texts.js";

const LOOK_MS = 5000;

export const sharing = reactive({ on: false, addresses: [], devices: [], name: "", address: "", code: "", closed: false, wrong: 0, hours: 0, trouble: null });

let watching = 0; // how many parts of the page look
let timer = null;

async function look() {
  try {
    take(await ask("/api/sharing"));
  } catch {
    // said elsewhere: the worktable does not answer
  }
}

function take(row) {
  Object.assign(sharing, { devices: [], code: "", address: "", closed: false, wrong: 0, trouble: null }, row);
}

async function tell(path, body) {
  try {
    take(await ask(path, body));
  } catch (error) {
    sharing.trouble = error;
  }
}

function watch() {
  watching += 1;
  if (watching === 1) timer = setInterval(look, LOOK_MS);
  look();
}

function leave() {
  watching -= 1;
  if (!watching) clearInterval(timer);
}

/** The mark in the head of every screen. */
export const SharingMark = {
  data: () => ({ sharing }),
  mounted: watch,
  unmounted: leave,
  computed: {
    to: () => `/machine/${encodeURIComponent(sharing.name)}`,
    devices: () => tn("machine.share.count", sharing.devices.length),
  },
  methods: { t },
  template: `<a v-if="sharing.on" class="sharing-mark" :href="to" role="status">{{ t("machine.share.mark") }}<span> · {{ devices }}</span></a>`,
};

/** Turning sharing on and off. */
export const SharePanel = {
  props: { name: String },
  emits: ["close"],
  data: () => ({ sharing, chosen: "", busy: false }),
  mounted: watch,
  unmounted: leave,
  computed: {
    digits: () => `${sharing.code.slice(0, 3)} ${sharing.code.slice(3)}`,
    other() {
      return sharing.on && sharing.name !== this.name;
    },
    address: {
      get() {
        return sharing.addresses.includes(this.chosen) ? this.chosen : sharing.addresses[0] ?? "";
      },
      set(address) {
        this.chosen = address;
      },
    },
  },
  methods: {
    decimal,
    t,
    tn,
    async work(path, body) {
      this.busy = true;
      await tell(path, body);
      this.busy = false;
    },
    begin() {
      return this.work("/api/sharing/begin", { name: this.name, address: this.address });
    },
    end() {
      return this.work("/api/sharing/end", {});
    },
    ago(device) {
      return device.seen < 20 ? t("machine.share.now") : t("machine.share.ago", { n: Math.max(1, Math.round(device.seen / 60)) });
    },
  },
  template: `
  <section class="m-panel" :aria-label="t('machine.share')">
    <p v-if="sharing.trouble" class="m-trouble" role="alert"><strong>{{ sharing.trouble.message }}</strong> {{ sharing.trouble.cure }}</p>
    <template v-if="sharing.on && !other">
      <h2>{{ t("machine.share.is") }}</h2>
      <p>{{ t("machine.share.how") }}</p>
      <dl class="m-code">
        <div><dt>{{ t("machine.share.address") }}</dt><dd>{{ sharing.address }}</dd></div>
        <div><dt>{{ t("machine.share.code") }}</dt><dd>{{ digits }}</dd></div>
      </dl>
      <p v-if="sharing.closed" class="m-stop" role="alert">{{ t("machine.share.closed") }}</p>
      <p v-else-if="sharing.wrong">{{ tn("machine.share.wrong", sharing.wrong) }}</p>
      <h3>{{ tn("machine.share.devices", sharing.devices.length) }}</h3>
      <ul><li v-for="(d, k) in sharing.devices" :key="k">{{ t("machine.share.device", { n: k + 1, address: d.address }) }}, {{ ago(d) }}</li></ul>
      <p class="quiet">{{ t("machine.share.until", { n: decimal(sharing.hours) }) }}</p>
      <div class="m-row"><button @click="end" :disabled="busy">{{ t("machine.share.end") }}</button><button class="plain" @click="$emit('close')">{{ t("machine.share.close") }}</button></div>
    </template>
    <template v-else>
      <h2>{{ t("machine.share") }}</h2>
      <p>{{ t("machine.share.what") }}</p>
      <p>{{ t("machine.share.mind") }}</p>
      <p v-if="other" class="m-stop">{{ t("machine.share.other") }}</p>
      <p v-if="!sharing.addresses.length" class="m-stop">{{ t("machine.share.none") }}</p>
      <label v-if="sharing.addresses.length">{{ t("machine.share.choose") }}<select v-model="address"><option v-for="a in sharing.addresses" :key="a" :value="a">{{ a }}</option></select></label>
      <div class="m-row"><button @click="begin" :disabled="busy || !sharing.addresses.length">{{ t("machine.share.begin") }}</button><button class="plain" @click="$emit('close')">{{ t("machine.share.close") }}</button></div>
    </template>
  </section>`,
};
