// The halts of a project, one card a screen: the same on the maker's own screen and on a device that she shares with.
//
// It asks the server through `ask(path, body)`; the server knows where the maker is, so that two devices show the same card. What
// could not be sent (the way to the server is broken) is kept here and sent again: going on never waits for it.
import { MachineCards } from "/parts/machine_cards.js";
import { beside, spell, ticks } from "/parts/machine_words.js";

const LOOK_MS = 4000; // another device may have gone on
const NOTE_MS = 500;
const TICK_MS = 1000;

export class MachineView extends MachineCards {
  /**
   * @param {HTMLElement} root where the cards stand
   * @param {{ ask: (path: string, body?: object | null) => Promise<any>, t: (key: string, values?: object) => string, pictures: string }} how
   */
  constructor(root, how) {
    super();
    this.root = root;
    this.how = how;
    this.plan = null;
    this.stand = null;
    this.heard = 0; // when the stand was heard, for the time that runs
    this.trouble = null;
    this.list = false;
    this.shown = ""; // what is on the screen, so that it is drawn anew only when it changed
    this.block = 0; // the block whose picture is looked at
    this.note = null; // {hooping, group, text} not sent yet
    this.noteState = "";
    this.lock = null;
    this.awake = "unknown";
    this.asking = false; // start again: asked whether it is meant
    this.waiting = []; // changes that the server does not have yet
    this.sending = false;
    this.turn = 0; // answers to older questions are not taken
  }

  async start() {
    this.root.classList.add("machine");
    this.onKey = (event) => this.key(event);
    this.onSeen = () => document.visibilityState === "visible" && this.wake();
    window.addEventListener("keydown", this.onKey);
    document.addEventListener("visibilitychange", this.onSeen);
    this.looking = setInterval(() => this.look(), LOOK_MS);
    this.ticking = setInterval(() => this.tick(), TICK_MS);
    this.wake();
    await this.load();
  }

  stop() {
    window.removeEventListener("keydown", this.onKey);
    document.removeEventListener("visibilitychange", this.onSeen);
    clearInterval(this.looking);
    clearInterval(this.ticking);
    this.lock?.release?.();
  }

  /** The words changed: the sentences of the plan are asked for in them too. */
  async again() {
    this.shown = "";
    this.draw();
    await this.load();
    this.shown = "";
    this.draw();
  }

  async load() {
    await this.tell(async () => {
      const plan = await this.how.ask("");
      this.take(await this.how.ask("/stand"));
      this.plan = plan;
    });
  }

  async look() {
    if (this.note) await this.sendNote();
    if (this.waiting.length) await this.flush();
    if (this.waiting.length) return;
    const turn = this.turn;
    await this.tell(async () => {
      if (!this.plan) this.plan = await this.how.ask("");
      const stand = await this.how.ask("/stand");
      if (turn !== this.turn) return;
      const old = this.plan.hoopings.some((h) => stand.hoopings[h.key]?.print !== h.print) || Object.keys(stand.hoopings).length !== this.plan.hoopings.length;
      if (old) this.plan = await this.how.ask("");
      this.take(stand);
    });
  }

  /** Ask the server; what goes wrong is said on the screen. @param {() => Promise<void>} work */
  async tell(work) {
    try {
      await work();
      this.trouble = null;
    } catch (error) {
      this.trouble = this.said(error);
    }
    this.draw();
  }

  /** What went wrong, in the page's own words where it has some. @param {any} error */
  said(error) {
    const t = this.how.t;
    const own = { 0: "offline", 404: "gone", 507: "full", 400: this.plan ? null : "unsewable" }[error.status ?? 0];
    if (own) return { message: t(`machine.${own}`), cure: t(`machine.${own}.cure`) };
    return { message: `${error.message}.`, cure: error.cure ?? "" };
  }

  take(stand) {
    const note = this.note;
    if (note && stand.hoopings[note.hooping]) stand.hoopings[note.hooping].notes[note.group] = note.text; // the server does not have it yet
    this.stand = stand;
    this.heard = performance.now();
  }

  get hooping() {
    return this.plan.hoopings.find((h) => h.key === this.stand.hooping) ?? this.plan.hoopings[0];
  }

  get here() {
    return this.stand.hoopings[this.hooping.key];
  }

  get card() {
    return this.hooping.cards.find((c) => c.place === this.here.at) ?? null;
  }

  /** Change something on the server, after all earlier changes; what cannot reach it waits here, and is sent again. */
  async send(path, body) {
    this.turn += 1;
    this.waiting.push({ path, body });
    await this.flush();
  }

  async flush() {
    if (this.sending) return;
    this.sending = true;
    await this.tell(async () => {
      while (this.waiting.length) {
        const { path, body } = this.waiting[0];
        try {
          const stand = await this.how.ask(path, body);
          this.waiting.shift();
          if (!this.waiting.length) this.take(stand);
        } catch (error) {
          const status = /** @type {any} */ (error).status ?? 0;
          if (status && status !== 507) this.waiting.shift(); // it will never be taken
          throw error;
        }
      }
    });
    this.sending = false;
  }

  /** @param {string} to @param {boolean} done */
  go(to, done) {
    if (!this.plan || this.list === null) return;
    const from = this.here.at;
    if (to === from) return;
    if (this.note) this.sendNote();
    const hooping = this.hooping.key;
    this.here.at = to; // shown at once
    this.here.visit = 0;
    this.here.resting = false;
    this.heard = performance.now();
    this.block = 0;
    this.list = false;
    this.draw();
    this.root.scrollTo?.(0, 0);
    window.scrollTo(0, 0);
    this.root.querySelector("h1")?.focus({ preventScroll: true });
    this.send("/go", { hooping, from, to, done });
  }

  step(by) {
    this.go(beside(this.hooping.cards, this.here.at, by), by > 0);
  }

  key(event) {
    const typing = event.target instanceof HTMLElement && event.target.closest("input, textarea, select");
    if (typing || event.ctrlKey || event.metaKey || event.altKey || !this.plan) return;
    if (event.key === "Escape" && this.list) return this.open(false);
    if (this.list) return;
    const pressed = event.target instanceof HTMLElement && event.target.closest("button, a, summary");
    if (event.key === "ArrowRight" || event.key === "PageDown" || (event.key === " " && !pressed)) this.stepBy(event, 1);
    if (event.key === "ArrowLeft" || event.key === "PageUp") this.stepBy(event, -1);
  }

  stepBy(event, by) {
    event.preventDefault();
    if (!event.repeat) this.step(by);
  }

  async wake() {
    if (!("wakeLock" in navigator)) {
      this.awake = "cannot";
      return;
    }
    try {
      this.lock = await navigator.wakeLock.request("screen");
      this.awake = "awake";
      this.lock.addEventListener("release", () => (this.awake = "unknown"));
    } catch {
      this.awake = "cannot";
    }
    this.shown = "";
    this.draw();
  }

  // Notes.

  write(text) {
    this.note = { hooping: this.hooping.key, group: this.card.group, text };
    this.here.notes[this.card.group] = text;
    this.noteSaid("saving");
    clearTimeout(this.noteTimer);
    this.noteTimer = setTimeout(() => this.sendNote(), NOTE_MS);
  }

  async sendNote() {
    clearTimeout(this.noteTimer);
    const note = this.note;
    if (!note) return;
    this.turn += 1;
    try {
      await this.how.ask("/note", note);
      if (this.note === note) {
        this.note = null;
        this.noteSaid("saved");
      }
    } catch (error) {
      const status = /** @type {any} */ (error).status ?? 0;
      this.noteSaid("waits");
      if (!status || status === 507) return;
      this.note = null; // it will never be taken: said, and left in its field
      this.trouble = this.said(error);
    }
  }

  noteSaid(state) {
    this.noteState = state;
    const said = this.root.querySelector(".m-note-said");
    if (said) said.textContent = this.how.t(`machine.note.${state}`);
  }

  // Drawing.

  open(on) {
    this.list = on;
    this.asking = false;
    this.draw();
    const to = on ? this.root.querySelector(".m-list [aria-current]") ?? this.root.querySelector(".m-list button") : this.root.querySelector(".m-all");
    /** @type {HTMLElement | null} */ (to)?.focus();
    to?.scrollIntoView?.({ block: "center" });
  }

  draw() {
    const state = JSON.stringify([this.list, this.asking, this.block, this.trouble, this.awake, this.plan && this.stand ? [this.stand.hooping, this.here.at, this.here.resting, this.here.changed, this.here.print, this.here.done, this.plan.hoopings.map((h) => [h.print, this.stand.hoopings[h.key]?.at])] : null]);
    if (state === this.shown) return this.fresh();
    this.shown = state;
    const typing = document.activeElement instanceof HTMLTextAreaElement && this.root.contains(document.activeElement) ? document.activeElement : null;
    const hold = typing && { start: typing.selectionStart, end: typing.selectionEnd, group: typing.dataset.group };
    const focus = /** @type {HTMLElement | null} */ (document.activeElement)?.dataset?.focus;
    document.documentElement.dataset.machine = this.plan && this.stand && this.card && !this.list ? "card" : "page";
    this.root.replaceChildren(...this.inside());
    this.fresh();
    if (hold) {
      const again = this.root.querySelector("textarea");
      if (again?.dataset.group === hold.group) {
        again.focus();
        again.setSelectionRange(hold.start, hold.end);
      }
    } else if (focus) /** @type {HTMLElement | null} */ (this.root.querySelector(`[data-focus="${focus}"]`))?.focus();
  }

  ask(on) {
    this.asking = on;
    this.draw();
  }

  startAgain() {
    this.list = false;
    this.asking = false;
    this.send("/again", { hooping: this.hooping.key });
  }

  /** Put in what changes without drawing anew: the times, and a note written on another device. */
  fresh() {
    if (!this.plan || !this.stand) return;
    const t = this.how.t;
    const left = this.root.querySelector(".m-left");
    const pace = this.stand.pace;
    if (left) {
      const said = this.here.at === "done" ? "" : t("machine.left", { here: spell(this.here.left, t) });
      const all = this.plan.hoopings.length > 1 && this.stand.left > 0 ? t("machine.left.all", { all: spell(this.stand.left, t) }) : "";
      const own = pace === null ? "" : t("machine.pace", { n: Math.round(pace * 100) });
      left.textContent = [said, all, own].filter(Boolean).join(" · ");
    }
    const field = this.root.querySelector("textarea");
    const text = this.card ? this.here.notes[this.card.group] ?? "" : "";
    if (field && field !== document.activeElement && !this.note && field.value !== text) field.value = text;
    this.tick();
  }

  tick() {
    const shown = this.root.querySelector(".m-ticks");
    if (!shown || !this.card) return;
    const running = this.here.resting ? 0 : this.here.visit + (performance.now() - this.heard) / 1000;
    shown.textContent = ticks((this.here.seconds[this.card.place] ?? 0) + running);
  }
}
