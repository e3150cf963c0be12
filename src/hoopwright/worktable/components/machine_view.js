// The halts of a project, one card a screen: the same on the maker's own screen and on a device that she shares with.
//
// It asks the server through `ask(path, body)`; the server knows where the maker is, so that two devices show the same card. What
// could not be sent (the way to the server is broken) is kept here and sent again: going on never waits for it.
import { el, patch } from "/parts/machine_dom.js";
import { beside, colourWords, haltWords, layFacts, lineOf, spell, ticks, workWords } from "/parts/machine_words.js";

const LOOK_MS = 4000; // another device may have gone on
const NOTE_MS = 500;
const TICK_MS = 1000;

export class MachineView {
  /**
   * @param {HTMLElement} root where the cards stand
   * @param {{ ask: (path: string, body?: object | null) => Promise<any>, t: (key: string, values?: object) => string, pictures: string }} how
   */
  constructor(root, how) {
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

  /** The words changed. */
  again() {
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
    if (own) return { message: t(`machine.${own}`), cure: t(`machine.${own}.cure`), english: false };
    return { message: `${error.message}.`, cure: error.cure ?? "", english: true };
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

  inside() {
    const t = this.how.t;
    const said = this.trouble && el("p.m-trouble", { role: "alert", lang: this.trouble.english ? "en" : null }, el("strong", null, this.trouble.message), " ", this.trouble.cure);
    if (!this.plan || !this.stand) return [said || el("p.m-wait", null, t("machine.loading"))];
    return [this.head(), said, this.changed(), this.list ? this.all() : this.middle(), this.list ? null : this.foot()].filter(Boolean);
  }

  head() {
    const t = this.how.t;
    const many = this.plan.hoopings.length > 1;
    const card = this.card;
    const part = card && card.parts > 1 ? ` · ${t("machine.part", { n: card.part, of: card.parts })}` : "";
    const where = card ? haltWords(card, this.hooping, t) + part : t(`machine.${this.here.at}.where`);
    return el(
      "header.m-head",
      null,
      el("p.m-where", null, many ? el("span", { lang: "en" }, this.hooping.title) : null, many ? " · " : null, where),
      el("p.m-left", { "aria-live": "off" }),
      el("div.m-tools", null,
        card && el("button.plain.m-rest", { "aria-pressed": String(this.here.resting), "data-focus": "rest", on: { click: () => this.send("/rest", { hooping: this.hooping.key, on: !this.here.resting }) } }, t(this.here.resting ? "machine.rest.off" : "machine.rest.on")),
        el("button.plain.m-all", { "aria-expanded": String(this.list), "data-focus": "all", on: { click: () => this.open(!this.list) } }, t(this.list ? "machine.list.close" : "machine.list.open")),
      ),
    );
  }

  changed() {
    const t = this.how.t;
    if (!this.here.changed) return null;
    return el("section.m-changed", { role: "alert" },
      el("h2", null, t("machine.changed")),
      el("p", null, t("machine.changed.do")),
      el("div.m-row", null,
        el("button", { on: { click: () => this.send("/again", { hooping: this.hooping.key }) } }, t("machine.again")),
        el("button.plain", { on: { click: () => this.send("/accept", { hooping: this.hooping.key }) } }, t("machine.accept")),
      ),
    );
  }

  middle() {
    if (this.here.at === "before") return this.before();
    if (this.here.at === "done" || !this.card) return this.done();
    return this.one(this.card);
  }

  before() {
    const t = this.how.t;
    const h = this.hooping;
    const machine = h.cards.reduce((sum, c) => sum + c.minutes.machine, 0);
    const hands = h.cards.reduce((sum, c) => sum + c.minutes.hands, 0);
    const hoop = h.hoop === "stay" ? null : el("li", null, t(`machine.hoop.${h.hoop}`));
    return el("main.m-page", null,
      el("h1.unseen", { tabindex: "-1", lang: "en" }, h.title),
      this.plan.blocked ? el("p.m-stop", { role: "alert" }, t("machine.blocked")) : null,
      el("div.m-columns", null,
        el("section", null,
          el("h2", null, t("machine.ready")),
          el("p", null, t("machine.ready.file")),
          el("p.m-files", null, ...h.files.map((f) => el("code", null, f))),
          el("p", null, t("machine.ready.counts", { colours: h.colours, halts: h.halts })),
          el("p", null, t("machine.ready.time", { machine: spell(machine, t), hands: spell(hands, t) })),
          el("h2", null, t("machine.threads")),
          el("ul.m-threads", null, ...h.threads.map((one) => el("li", null, patch(one.colour), one.name))),
          el("h2", null, t("machine.set")),
          el("ul.m-cautions", null, el("li", null, t("machine.set.stop")), hoop),
        ),
        el("section", null,
          el("h2", null, t("machine.cautions")),
          el("ul.m-cautions", null, ...h.cautions.map((c) => el("li", null, t(`machine.caution.${c}`)))),
          el("p.m-awake", null, this.awake === "cannot" ? t("machine.awake.cannot") : this.awake === "awake" ? t("machine.awake") : ""),
        ),
      ),
    );
  }

  done() {
    const t = this.how.t;
    const k = this.plan.hoopings.indexOf(this.hooping);
    const next = [...this.plan.hoopings.slice(k + 1), ...this.plan.hoopings.slice(0, k)].find((h) => this.stand.hoopings[h.key].at !== "done");
    const spent = Object.values(this.here.seconds).reduce((sum, s) => sum + s, 0);
    return el("main.m-page.m-done", null,
      el("h1", { tabindex: "-1" }, t("machine.done")),
      spent >= 60 ? el("p.m-say", null, t("machine.done.time", { time: spell(spent / 60, t) })) : null,
      next ? el("p.m-say", null, t("machine.done.next"), " ", el("span", { lang: "en" }, next.title)) : el("p.m-say", null, t("machine.done.all")),
      next ? el("button.m-big", { on: { click: () => this.send("/follow", { hooping: next.key }) } }, t("machine.done.go")) : null,
    );
  }

  one(card) {
    const t = this.how.t;
    const sewn = card.sews;
    const block = sewn[Math.min(this.block, sewn.length - 1)];
    const file = sewn.length > 1 && block?.picture ? block.picture : card.picture;
    const told = t("machine.picture", { what: lineOf(card, t) });
    const files = [file, ...(card.more ?? [])].filter(Boolean);
    return el("main.m-page.m-card", null,
      files.length ? el("figure.m-picture", null, ...files.map((f) => el("img", { src: this.picture(f), alt: told }))) : null,
      el("div.m-words", null,
        el("h1.unseen", { tabindex: "-1" }, haltWords(card, this.hooping, t)),
        card.cautions.length ? el("ul.m-mind", null, ...card.cautions.map((c) => el("li", null, t(`machine.here.${c}`)))) : null,
        ...card.hands.map((h) => this.hand(h)),
        sewn.length ? this.sews(card) : null,
        card.lies ? el("p.m-lies", null, el("span", null, t("machine.lies")), " ", el("span", { lang: "en" }, card.lies)) : null,
        this.times(card),
        this.notes(card),
      ),
    );
  }

  picture(file) {
    const h = this.hooping;
    return `${this.how.pictures}/${encodeURIComponent(h.key)}/${h.print}/${encodeURIComponent(file)}`;
  }

  hand(hand) {
    const t = this.how.t;
    const lay = hand.lay;
    return el("section.m-hand", null,
      el("h2", null, workWords(hand, t)),
      lay ? el("p.m-cloth", null, patch(lay.colour), el("span", { lang: "en" }, lay.cloth)) : null,
      lay ? el("ul.m-facts", null, ...layFacts(lay, this.plan.units, t).map((f) => el(f.strong ? "li.strong" : "li", null, f.text))) : null,
      el("p.m-sentence", { lang: "en" }, hand.sentence),
    );
  }

  sews(card) {
    const t = this.how.t;
    const many = card.sews.length > 1;
    return el("section.m-sews", null,
      el("h2", null, el("span.m-then", null, t(card.hands.length ? "machine.then" : "machine.sew")), " ", colourWords(card.sews, this.hooping.colours, t)),
      ...card.sews.map((s, k) => {
        const inside = [
          el("span.m-thread", null, many ? el("b.m-number", null, String(s.number)) : null, patch(s.thread.colour), el("span", { lang: "en" }, s.thread.name), el(s.change ? "em.change" : "em", null, t(s.change ? (s.number === 1 ? "machine.thread.first" : "machine.thread.change") : "machine.thread.same"))),
          el("span.m-what", { lang: "en" }, s.title),
        ];
        if (many) return el("button.plain.m-block", { "aria-pressed": String(k === this.block), "data-focus": `b${k}`, on: { click: () => this.look_at(k) } }, ...inside);
        return el("div.m-block", null, ...inside, el("p.m-sentence", { lang: "en" }, s.sentence));
      }),
    );
  }

  look_at(k) {
    this.block = k;
    this.draw();
  }

  times(card) {
    const t = this.how.t;
    const all = card.minutes.hands + card.minutes.machine;
    return el("p.m-times", null,
      el("span", null, t("machine.estimate", { time: spell(all, t) })),
      el("span.m-own", null, t("machine.own"), " ", el("b.m-ticks", { role: "timer" })),
    );
  }

  notes(card) {
    const t = this.how.t;
    const text = this.here.notes[card.group] ?? "";
    return el("label.m-note", null, t("machine.note"),
      el("textarea", { rows: text ? 3 : 2, maxlength: 2000, "data-group": card.group, value: text, placeholder: t("machine.note.hint"), on: { input: (event) => this.write(event.target.value), blur: () => this.sendNote() } }),
      el("span.m-note-said", { "aria-live": "polite" }),
    );
  }

  foot() {
    const t = this.how.t;
    const at = this.here.at;
    const last = this.hooping.cards[this.hooping.cards.length - 1]?.place === at;
    const next = at === "before" ? "machine.begin" : last ? "machine.finish" : "machine.next";
    return el("nav.m-foot", { "aria-label": t("machine.steps") },
      at === "before" ? el("span") : el("button.plain.m-back", { "data-focus": "back", on: { click: () => this.step(-1) } }, t("machine.back")),
      at === "done" ? el("span") : el("button.m-next", { "data-focus": "next", on: { click: () => this.step(1) } }, t(next)),
    );
  }

  all() {
    const t = this.how.t;
    return el("main.m-page.m-list", null,
      el("h1", { tabindex: "-1" }, t("machine.list")),
      this.plan.hoopings.length > 1 ? el("div.m-row", { role: "group", "aria-label": t("machine.hoopings") }, ...this.plan.hoopings.map((h) => el("button.plain", { "aria-pressed": String(h.key === this.hooping.key), lang: "en", "data-focus": `h-${h.key}`, on: { click: () => this.send("/follow", { hooping: h.key }) } }, h.title))) : null,
      el("ol", null, this.row(null, "before"), ...this.hooping.cards.map((c) => this.row(c, c.place))),
      this.begin(),
    );
  }

  row(card, place) {
    const t = this.how.t;
    const now = this.here.at === place;
    const done = this.here.done.includes(place);
    const minutes = card ? spell(card.minutes.hands + card.minutes.machine, t) : "";
    const spent = this.here.seconds[place];
    const note = card && card.part === 1 && this.here.notes[card.group];
    const what = card ? lineOf(card, t) : t("machine.before.where");
    return el("li", null,
      el("button.plain", { "aria-current": now ? "step" : null, on: { click: () => (now ? this.open(false) : this.go(place, false)) } },
        el("span.m-mark", { "aria-hidden": "true" }, now ? "●" : done ? "✓" : ""),
        el("span.m-line", null, card ? el("b", null, haltWords(card, this.hooping, t), card.parts > 1 ? ` · ${card.part}/${card.parts}` : "") : null, el("span", { lang: card && !card.hands.length ? "en" : null }, what), note ? el("span.m-noted", null, note) : null),
        el("span.m-long", null, minutes, spent ? el("small", null, ticks(spent)) : null),
        now ? el("span.unseen", null, t("machine.list.here")) : done ? el("span.unseen", null, t("machine.list.done")) : null,
      ),
    );
  }

  begin() {
    const t = this.how.t;
    if (!this.here.begun) return null;
    if (!this.asking) return el("p", null, el("button.plain.m-again", { "data-focus": "again", on: { click: () => this.ask(true) } }, t("machine.again")));
    return el("div.m-sure", { role: "alert" },
      el("p", null, t("machine.again.sure")),
      el("div.m-row", null,
        el("button", { on: { click: () => this.startAgain() } }, t("machine.again")),
        el("button.plain", { on: { click: () => this.ask(false) } }, t("machine.again.not")),
      ),
    );
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
