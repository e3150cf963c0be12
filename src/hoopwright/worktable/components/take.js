// Taking away: what the machine reads and the printer holds, the slip of what is made, and where it goes.
import { ask, of, spoken, Trouble } from "/parts/ask.js";
import { TakeChoices } from "/parts/take_choices.js";
import { TakeFolder } from "/parts/take_folder.js";
import { TakeMended } from "/parts/take_mended.js";
import { TakeSlip } from "/parts/take_slip.js";
import { toggled } from "/parts/take_kinds.js";
import { besides, sentence, size } from "/parts/take_rows.js";
import { t, texts } from "/parts/texts.js";
import { reactive } from "vue";

const ASK_MS = 150;
const AGAIN_MS = 1500;

/** What was made in this window, by project: it is still there after a look at another screen. */
const kept = reactive({});

const wait = (ms) => new Promise((done) => setTimeout(done, ms));

export const Take = {
  components: { TakeChoices, TakeFolder, TakeMended, TakeSlip },
  props: { store: Object },
  data: () => ({ offer: null, despite: false, lost: false, trouble: null, where: null, busy: null, done: null }),
  computed: {
    home() {
      return `${of(this.store.name)}/take`;
    },
    making() {
      return kept[this.store.name] ?? null;
    },
    /** What was made, as long as it is of the project as it stands now. */
    now() {
      return this.making && this.making.version === this.store.version ? this.making : null;
    },
    working() {
      return this.making?.state === "working";
    },
    ready() {
      return this.now?.state === "ready";
    },
    stale() {
      return this.making?.state === "ready" && !this.ready;
    },
    known() {
      return [...this.store.problems, ...(this.store.view?.findings ?? [])];
    },
    /** What must be mended first: known from the plan, or found when the files were read back. */
    blocks() {
      return [...this.known, ...this.more].filter((row) => row.severity === "blocks");
    },
    /** What was found only when the files were made. */
    more() {
      return this.now ? besides(this.now.findings, this.known) : [];
    },
    mayMake() {
      return !this.working && !!this.store.view && (!this.blocks.length || this.despite);
    },
    all() {
      return size((this.now?.files ?? []).reduce((sum, file) => sum + file.size, 0), texts.language);
    },
    /** Said aloud when it begins and ends, not at every stage. */
    spoken() {
      if (this.working) return t("take.making");
      return this.ready ? t("take.made") : "";
    },
  },
  watch: {
    "store.version"() {
      this.despite = false;
      this.done = null;
      this.trouble = null;
      this.look();
    },
  },
  mounted() {
    this.alive = true;
    this.$watch(() => texts.language, this.look);
    this.look();
    if (this.working) this.follow();
  },
  unmounted() {
    this.alive = false;
  },
  methods: {
    t,
    sentence,
    async look() {
      const asked = (this.asked = (this.asked ?? 0) + 1);
      try {
        const said = await ask(this.home);
        if (asked === this.asked) this.offer = said;
        if (this.ready && this.making.spoken !== texts.language) await this.again();
      } catch (error) {
        this.tell(error, "take.trouble.look");
      }
    },
    /** What was found in what was made is told anew when the page speaks another language. */
    async again() {
      const [making, language] = [this.making, texts.language];
      Object.assign(making, await ask(`${this.home}/make/${making.print}`), { spoken: language });
    },
    async make() {
      this.trouble = null;
      this.done = null;
      try {
        kept[this.store.name] = { ...(await ask(`${this.home}/make`, { despite: this.despite })), spoken: texts.language };
        this.follow();
      } catch (error) {
        this.tell(error, "take.trouble.make");
      }
    },
    /** Ask how far it is until it is done; while the worktable does not answer, ask more slowly. */
    async follow() {
      while (this.alive && this.working) {
        await wait(this.lost ? AGAIN_MS : ASK_MS);
        try {
          const row = await ask(`${this.home}/make/${this.making.print}`);
          this.lost = false;
          if (this.alive) Object.assign(this.making, row);
        } catch (error) {
          this.lost = error instanceof Trouble && error.status === 0;
          if (this.lost) continue;
          delete kept[this.store.name];
          this.tell(error, "take.trouble.make");
        }
      }
      this.lost = false;
      if (this.making?.state === "failed") {
        this.trouble = { title: "take.trouble.make", ...this.making };
        delete kept[this.store.name];
      } else if (this.alive && this.ready) this.$nextTick(() => this.$refs.away?.focus());
    },
    tell(error, title) {
      if (!(error instanceof Trouble)) throw error;
      const offline = error.status === 0;
      this.trouble = { title, message: offline ? t("trouble.offline") : error.message, cure: offline ? t("take.trouble.offline") : error.cure, own: offline };
      if ([400, 404, 410].includes(error.status) && this.making && title !== "take.trouble.look") delete kept[this.store.name];
    },
    async put() {
      await this.doing("put", "take.trouble.put", async () => {
        const lies = await ask(`${this.home}/make/${this.now.print}/put`, {});
        if (this.offer) this.offer.folder = lies;
      });
    },
    async download() {
      await this.doing("zip", "take.trouble.zip", async () => {
        const link = document.createElement("a");
        link.href = URL.createObjectURL(await this.zip());
        link.download = `${this.store.name}.zip`;
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
      });
    },
    /** The whole file before anything is saved: a download is whole or not there. */
    async zip() {
      let answer;
      try {
        answer = await fetch(`${this.home}/make/${this.now.print}/all.zip`, { headers: spoken(), cache: "no-store" });
        if (answer.ok) return await answer.blob();
      } catch {
        throw new Trouble("offline", "", 0);
      }
      const said = await answer.json().catch(() => ({}));
      throw new Trouble(said.message ?? answer.statusText, said.cure ?? "", answer.status);
    },
    async doing(what, title, work) {
      this.trouble = null;
      this.done = null;
      this.busy = what;
      try {
        await work();
        this.done = what;
      } catch (error) {
        this.tell(error, title);
      } finally {
        this.busy = null;
      }
    },
    leaveKind(key) {
      const { kinds } = this.store.project.machine;
      const all = this.offer.kinds.map((k) => k.key);
      return this.store.edit(t("take.did.kinds"), [{ path: "machine.kinds", value: toggled(all, kinds, key) }]);
    },
    paper(file) {
      return `${this.home}/make/${this.now.print}/paper/${file}`;
    },
    has(file) {
      return this.now?.files.some((row) => row.name === file);
    },
  },
  template: `
  <section class="take" :aria-label="t('frame.take')">
    <TakeChoices v-if="offer && store.project" :store="store" :offer="offer" />
    <div class="stack">
      <TakeMended v-if="blocks.length" :store="store" :rows="blocks" v-model:despite="despite" :may="!!store.view && !working && !ready" />
      <p class="unseen" role="status">{{ spoken }}</p>
      <div v-if="working" class="take-under-way">
        <label for="take-progress">{{ lost ? t("take.lost") : t("take.stage." + making.stages[Math.min(making.done, making.stages.length - 1)].split(" ")[0]) }}</label>
        <progress id="take-progress" :max="making.stages.length" :value="making.done + 0.5"></progress>
      </div>
      <template v-else-if="ready">
        <p v-if="now.blocked" class="take-warning">{{ t("take.stamped") }}</p>
        <div class="take-ways">
          <section class="sheet stack" :aria-label="t('take.way.machine')">
            <h2>{{ t("take.way.machine") }}</h2>
            <button ref="away" :disabled="busy !== null" @click="download">{{ t("take.download", { size: all }) }}</button>
            <button class="plain" :disabled="busy !== null" @click="put">{{ t("take.put") }}</button>
            <p role="status" class="take-done" :class="{ unseen: !done }">{{ done ? t("take.done." + done) : "" }}</p>
            <div v-if="trouble" role="alert" class="take-trouble"><strong>{{ t(trouble.title) }}</strong> <span>{{ sentence(trouble.message) }} {{ sentence(trouble.cure) }}</span></div>
          </section>
          <section v-if="has('templates.pdf') || has('booklet.pdf')" class="sheet stack" :aria-label="t('take.way.printer')">
            <h2>{{ t("take.way.printer") }}</h2>
            <a v-if="has('templates.pdf')" class="button plain" target="_blank" rel="noopener" :href="paper('templates.pdf')">{{ t("take.templates") }}</a>
            <a v-if="has('booklet.pdf')" class="button plain" target="_blank" rel="noopener" :href="paper('booklet.pdf')">{{ t("take.booklet") }}</a>
            <p class="take-print"><span class="bar" aria-hidden="true"></span>{{ t("take.print") }}</p>
          </section>
        </div>
      </template>
      <div v-else>
        <p v-if="stale" class="quiet">{{ t("take.stale") }}</p>
        <button :disabled="!mayMake" @click="make">{{ t(stale ? "take.make.again" : "take.make") }}</button>
      </div>
      <div v-if="trouble && !ready" role="alert" class="take-trouble"><strong>{{ t(trouble.title) }}</strong> <span>{{ sentence(trouble.message) }} {{ sentence(trouble.cure) }}</span></div>
      <TakeSlip v-if="offer" :offer="offer" :making="working ? making : now" :paper="store.project?.paper ?? 'A4'" :blocked="blocks.length > 0" :kinds="store.project?.machine.kinds ?? []" @leave="leaveKind" />
      <div v-if="more.length && !blocks.length" class="sheet stack">
        <h2>{{ t("take.more") }}</h2>
        <ul class="take-more"><li v-for="(row, i) in more" :key="i"><strong>{{ sentence(row.message) }}</strong> {{ sentence(row.cure) }}</li></ul>
      </div>
      <TakeFolder v-if="offer?.folder" :folder="offer.folder" :home="home" />
    </div>
  </section>`,
};
