// What the hand holds: asks for the plan that would come of it, one question at a time, and drops what is stale.
import { markRaw } from "vue";
import { ask, of, Trouble } from "/parts/ask.js";

/** Past so many pieces the plan is made when the hand pauses. */
export const MANY = 200;
const PAUSE_MS = 180;

/** @param {any} store */
export function openHand(store) {
  let next = null;
  let busy = false;
  let turn = 0;
  let pause = 0;

  async function go() {
    if (busy) return;
    busy = true;
    while (next !== null) {
      const { work, mine } = next;
      next = null;
      try {
        const said = await work();
        if (said && mine === turn) show(store, said);
      } catch (error) {
        if (error instanceof Trouble && error.status === 0) store.online = false;
        else if (mine === turn) hand.refused = error.message;
      }
    }
    busy = false;
  }

  const hand = {
    /** Why the newest drawing makes no pieces; null when it does. @type {string | null} */
    refused: null,
    /** @param {() => Promise<object | null>} work */
    ask(work) {
      next = { work, mine: turn };
      return go();
    },
    /** @param {object} body @param {number} pieces */
    attempt(body, pieces = 0) {
      window.clearTimeout(pause);
      const work = () => ask(`${of(store.name)}/draw/hand`, body);
      if (pieces <= MANY) return hand.ask(work);
      pause = window.setTimeout(() => hand.ask(work), PAUSE_MS);
      return Promise.resolve();
    },
    /** Let go: what is still on its way is not shown any more. */
    drop() {
      window.clearTimeout(pause);
      turn += 1;
      next = null;
      hand.refused = null;
    },
    leave() {
      hand.drop();
      store.settle();
    },
  };

  function show(to, said) {
    const before = to.tried ?? to.view ?? {};
    const undrawn = said.panels.length === 0 || said.panels.some((p) => !p.order.drawn);
    hand.refused = undrawn ? (said.findings?.find((f) => f.severity === "blocks")?.message ?? null) : null;
    const panels = undrawn && before.panels?.length ? before.panels : said.panels;
    to.tried = markRaw({ ...to.view, panels, findings: said.findings ?? to.view?.findings ?? [] });
  }
  return hand;
}
