// How the cards of the page at the machine are drawn: elements made anew from plan and stand. What pressing does is in machine_view.js.
import { el, patch } from "/parts/machine_dom.js";
import { colourWords, haltWords, layFacts, lineOf, spell, ticks, workWords } from "/parts/machine_words.js";

/** One or many of what the hooping has. @param {(key: string, values?: object) => string} t @param {"colours" | "halts"} what @param {number} n */
const counted = (t, what, n) => t(`machine.ready.${what}.${n === 1 ? "one" : "many"}`, { n });

/** Drawing only; `plan`, `stand`, `how` and what is pressed belong to MachineView. */
export class MachineCards {
  inside() {
    const t = this.how.t;
    const said = this.trouble && el("p.m-trouble", { role: "alert" }, el("strong", null, this.trouble.message), " ", this.trouble.cure);
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
      el("p.m-where", null, many ? this.hooping.title : null, many ? " · " : null, where),
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
      el("h1.unseen", { tabindex: "-1" }, h.title),
      this.plan.blocked ? el("p.m-stop", { role: "alert" }, t("machine.blocked")) : null,
      el("div.m-columns", null,
        el("section", null,
          el("h2", null, t("machine.ready")),
          el("p", null, t("machine.ready.file")),
          el("p.m-files", null, ...h.files.map((f) => el("code", null, f))),
          el("p", null, t("machine.ready.counts", { colours: counted(t, "colours", h.colours), halts: counted(t, "halts", h.halts) })),
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
      next ? el("p.m-say", null, t("machine.done.next"), " ", next.title) : el("p.m-say", null, t("machine.done.all")),
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
        card.lies ? el("p.m-lies", null, el("span", null, t("machine.lies")), " ", card.lies) : null,
        this.times(card),
        this.notes(card),
      ),
    );
  }

  picture(file) {
    const h = this.hooping;
    return `${this.how.pictures}/${encodeURIComponent(h.key)}/${h.print}/${encodeURIComponent(file)}?in=${document.documentElement.lang || "en"}`;
  }

  hand(hand) {
    const t = this.how.t;
    const lay = hand.lay;
    return el("section.m-hand", null,
      el("h2", null, workWords(hand, t)),
      lay ? el("p.m-cloth", null, patch(lay.colour), el("span", null, lay.cloth)) : null,
      lay ? el("ul.m-facts", null, ...layFacts(lay, this.plan.units, t).map((f) => el(f.strong ? "li.strong" : "li", null, f.text))) : null,
      el("p.m-sentence", null, hand.sentence),
    );
  }

  sews(card) {
    const t = this.how.t;
    const many = card.sews.length > 1;
    return el("section.m-sews", null,
      el("h2", null, el("span.m-then", null, t(card.hands.length ? "machine.then" : "machine.sew")), " ", colourWords(card.sews, this.hooping.colours, t)),
      ...card.sews.map((s, k) => {
        const inside = [
          el("span.m-thread", null, many ? el("b.m-number", null, String(s.number)) : null, patch(s.thread.colour), el("span", null, s.thread.name), el(s.change ? "em.change" : "em", null, t(s.change ? (s.number === 1 ? "machine.thread.first" : "machine.thread.change") : "machine.thread.same"))),
          el("span.m-what", null, s.title),
        ];
        if (many) return el("button.plain.m-block", { "aria-pressed": String(k === this.block), "data-focus": `b${k}`, on: { click: () => this.look_at(k) } }, ...inside);
        return el("div.m-block", null, ...inside, el("p.m-sentence", null, s.sentence));
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
      this.plan.hoopings.length > 1 ? el("div.m-row", { role: "group", "aria-label": t("machine.hoopings") }, ...this.plan.hoopings.map((h) => el("button.plain", { "aria-pressed": String(h.key === this.hooping.key), "data-focus": `h-${h.key}`, on: { click: () => this.send("/follow", { hooping: h.key }) } }, h.title))) : null,
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
        el("span.m-line", null, card ? el("b", null, haltWords(card, this.hooping, t), card.parts > 1 ? ` · ${card.part}/${card.parts}` : "") : null, el("span", null, what), note ? el("span.m-noted", null, note) : null),
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
}
