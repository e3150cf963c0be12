import assert from "node:assert/strict";
import test from "node:test";
import { again, ahead, clock, halts, otherHalt, placeOf, sewnAt, sewnBy, slider, stepped, TEMPOS, valueOf } from "/parts/player_timing.js";

const hand = (first, number = 1, hooping = 0) => ({ kind: "hand", halt: true, hooping, first, number });
const sew = (first, count, number = 1, hooping = 0) => ({ kind: "sew", count, hooping, first, number });
const SHEET = [hand(0), hand(0), sew(0, 10), sew(10, 4, 2), hand(14, 3), sew(14, 6, 3), hand(20, 4)];
const needles = (xy, opens) => ({ xy: Int16Array.from(xy.flat()), opens: Uint8Array.from(opens), count: opens.length });
/** A machine that sews one stitch a second. */
const EVEN = [Float64Array.from({ length: 21 }, (_, i) => i)];
const [TRUE, TEN, , BLOCK] = TEMPOS;

test("the clock reckons as the estimate: turns, long stitches, cuts of the thread", () => {
  // 600 a minute: 0.1 s a turn; a stitch of 8 mm takes two turns where 4 mm are the most; each of two runs ends with 6 s.
  const at = clock(needles([[0, 0], [300, 0], [1100, 0], [0, 0], [0, 200]], [1, 0, 0, 1, 0]), { speed: 600, full: 4, trim: 0.1 });
  assert.deepEqual([...at].map((t) => Math.round(t * 1000) / 1000), [0, 0.1, 0.2, 6.4, 6.5, 12.6]);
});

test("bisection finds what a plain search finds", () => {
  const at = Float64Array.from([0, 0.5, 0.5, 2, 3, 9]);
  for (let t = 0; t < 10; t += 0.25) {
    let plain = 0;
    while (plain + 1 < at.length && at[plain + 1] <= t) plain++;
    assert.equal(sewnBy(at, t, 0, at.length - 1), plain);
  }
});

test("at true speed ten seconds sew ten stitches, and ten times as fast a hundred", () => {
  assert.deepEqual(ahead(SHEET, EVEN, { at: 2, part: 0 }, 4.5, TRUE, false).place, { at: 2, part: 4.5 });
  const ten = ahead(SHEET, EVEN, { at: 2, part: 0 }, 0.45, TEN, false).place;
  assert.equal(ten.at, 2);
  assert.ok(Math.abs(ten.part - 4.5) < 1e-9);
});

test("however time is cut up, the same place is reached", () => {
  const whole = ahead(SHEET, EVEN, { at: 0, part: 0 }, 25, TRUE, false).place;
  let place = { at: 0, part: 0 };
  for (let i = 0; i < 250; i++) place = ahead(SHEET, EVEN, place, 0.1, TRUE, false).place;
  assert.equal(place.at, whole.at);
  assert.ok(Math.abs(place.part - whole.part) < 1e-6);
});

test("one block a second, whatever its size", () => {
  assert.deepEqual(ahead(SHEET, EVEN, { at: 2, part: 0 }, 0.5, BLOCK, false).place, { at: 2, part: 5 });
  assert.deepEqual(ahead(SHEET, EVEN, { at: 2, part: 0 }, 1.5, BLOCK, false).place, { at: 3, part: 2 });
});

test("the machine waits at halts only when told to, and not between blocks", () => {
  const waits = ahead(SHEET, EVEN, { at: 2, part: 0 }, 1000, TRUE, true);
  assert.deepEqual(waits, { place: { at: 4, part: 0 }, halted: true, ended: false });
  assert.equal(ahead(SHEET, EVEN, { at: 2, part: 0 }, 1000, TRUE, false).ended, true);
});

test("the end is the end", () => {
  const end = ahead(SHEET, EVEN, { at: 6, part: 1 }, 5, TRUE, false);
  assert.deepEqual(end, { place: { at: 6, part: 1 }, halted: false, ended: true });
});

test("halts begin at the first handwork after a block, and at each hooping", () => {
  assert.deepEqual(SHEET.map((_, i) => halts(SHEET, i)), [true, false, false, false, true, false, true]);
  const two = [hand(0), sew(0, 3), hand(3, 2), hand(0, 1, 1), sew(0, 2, 1, 1)];
  assert.deepEqual(two.map((_, i) => halts(two, i)), [true, false, true, true, false]);
  assert.equal(otherHalt(SHEET, 0, 1), 4);
  assert.equal(otherHalt(SHEET, 5, -1), 4);
  assert.equal(otherHalt(SHEET, 6, 1), 6);
  assert.equal(otherHalt(SHEET, 1, -1), 0);
});

test("stitch by stitch on and back through the whole sheet", () => {
  let place = { at: 0, part: 0 };
  let steps = 0;
  while (place.at < 6 || place.part < 1) {
    place = stepped(SHEET, place, 1);
    steps++;
  }
  assert.equal(steps, 20 + 4);
  for (let i = 0; i < 24; i++) place = stepped(SHEET, place, -1);
  assert.deepEqual(place, { at: 0, part: 0 });
  assert.deepEqual(stepped(SHEET, place, -1), place);
  assert.deepEqual(stepped(SHEET, { at: 2, part: 3.4 }, 1), { at: 2, part: 4 });
  assert.deepEqual(stepped(SHEET, { at: 2, part: 3.4 }, -1), { at: 2, part: 3 });
});

test("the slider and the places on it lead to each other", () => {
  const bar = slider(SHEET);
  assert.equal(bar.total, 20 + 4 * 2);
  for (let value = 1; value <= bar.total; value++) {
    const place = placeOf(bar, SHEET, value);
    assert.ok(Math.abs(valueOf(bar, SHEET, place) - value) < 1e-9, `${value}`);
  }
  assert.deepEqual(placeOf(bar, SHEET, 0), { at: 0, part: 0 });
});

test("how much is sewn never falls along the slider of one hooping", () => {
  const bar = slider(SHEET);
  let before = 0;
  for (let value = 0; value <= bar.total; value++) {
    const now = sewnAt(SHEET, placeOf(bar, SHEET, value));
    assert.ok(now >= before);
    before = now;
  }
  assert.equal(before, 20);
});

test("on a sheet made anew the same block is found", () => {
  const anew = [hand(0), sew(0, 30), hand(30, 2), sew(30, 4, 2), hand(34, 3), sew(34, 6, 3)];
  assert.deepEqual(again(SHEET, anew, { at: 5, part: 2 }), { at: 5, part: 0 });
  const halt = [{ ...hand(0), work: "trim", piece: "A" }, { ...hand(0), work: "flip", piece: "A" }, { ...hand(0), work: "press", piece: "A" }];
  assert.deepEqual(again([...halt, ...SHEET], [...halt, ...anew], { at: 1, part: 1 }), { at: 1, part: 0 });
  assert.deepEqual(again(SHEET, anew.slice(0, 2), { at: 5, part: 2 }), { at: 1, part: 0 });
  assert.deepEqual(again([], anew, { at: 0, part: 0 }), { at: 0, part: 0 });
  assert.deepEqual(again(SHEET, [], { at: 5, part: 2 }), { at: 0, part: 0 });
});
