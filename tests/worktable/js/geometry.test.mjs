import assert from "node:assert/strict";
import test from "node:test";
import { across, carried, carriedLines, distance, drawnOn, endMoved, inside, meeting, nearestOn, sides, slid, snapTurn, toFile, toHoop, without } from "/parts/geometry.js";
import { all, fitted, moved, seenBy, zoomed } from "/parts/draw_camera.js";
import { aimed, broughtIn, grasped, railsOf, turned } from "/parts/draw_grasp.js";
import { lying, rescaled } from "/parts/draw_sheet.js";
import { pathOf } from "/parts/draw_threads.js";

const SQUARE = [[-30, -30], [30, -30], [30, 30], [-30, 30]];
const near = (a, b, by = 1e-9) => assert.ok(distance(a, b) <= by, `${a} is not ${b}`);

test("places go to the hoop and back, turned and moved", () => {
  const frame = { shift: [3, -4], turn: 37, back: [10, 2] };
  for (const p of [[0, 0], [12.5, -7], [-40, 33]]) near(toFile(frame, toHoop(frame, p)), p);
  near(toHoop({ shift: [0, 0], turn: 90, back: [0, 0] }, [1, 0]), [0, 1]);
});

test("a cut runs across a piece from edge to edge, through the place that is meant", () => {
  assert.deepEqual(across(SQUARE, [[-5, 0], [5, 0]], [0, 0]), [[-30, 0], [30, 0]]);
  assert.equal(across(SQUARE, [[-5, 50], [5, 50]], [0, 50]), null);
  const hook = [[0, 0], [60, 0], [60, 40], [40, 40], [40, 20], [20, 20], [20, 40], [0, 40]];
  assert.deepEqual(across(hook, [[0, 30], [10, 30]], [50, 30]), [[40, 30], [60, 30]]);
  assert.ok(inside(hook, [10, 35]) && !inside(hook, [30, 35]));
});

test("later cuts that end on a moved one end on it still", () => {
  const cuts = [[[-30, 0], [30, 0]], [[0, 0], [0, 30]], [[10, -30], [10, 0]], [[-30, 20], [0, 20]]];
  const after = carried(cuts, 0, [[-30, 5], [30, -5]]);
  near(after[1][0], [0, 0]);
  near(after[2][1], [10, -10 / 6]);
  assert.equal(after[3], cuts[3]);
  assert.equal(carried(cuts, 1, [[5, 0], [5, 30]])[0], cuts[0]);
});

// Pieces round a middle by a rule, taken apart into lines: each but the last ends on others that were drawn before or after it.
const POUCH = [[56, 47.17], [-56, 47.17], [-56, -47.17], [56, -47.17]];
const APART = [
  [[22.75, -20.28], [14.76, 20.11]],
  [[56, 10.26], [-16.81, 27.66]],
  [[-5.31, 47.17], [-39.04, -10.06]],
  [[-56, 2.41], [-15.99, -27.01]],
  [[-56, -33.96], [56, -14.5]],
];
const lies = (lines) =>
  lines.forEach((line, i) =>
    line.forEach((end) => {
      const far = Math.min(...railsOf(POUCH, lines, i).map((rail) => nearestOn(rail, end).far));
      assert.ok(far <= 0.3, `line ${i} ends ${far} mm from everything`);
    }),
  );

test("of lines, none is left behind when one is moved by its middle, an end or turned", () => {
  lies(APART);
  for (let i = 0; i < APART.length; i++) {
    const rails = railsOf(POUCH, APART, i);
    for (const by of [[0, 5], [0, -5], [5, 0], [-5, 0], [3, 3]]) {
      lies(carriedLines(APART, i, slid(APART[i], by, rails), POUCH));
      for (const end of [0, 1]) lies(carriedLines(APART, i, endMoved(APART[i], end, by, rails), POUCH));
    }
    for (const degrees of [1, -1, 3, -3]) lies(carriedLines(APART, i, turned(APART[i], degrees, rails), POUCH));
  }
  const after = carriedLines(APART, 4, slid(APART[4], [0, 5], railsOf(POUCH, APART, 4)), POUCH);
  assert.notDeepEqual(after[0][0], APART[0][0]);
  assert.deepEqual(after[1], APART[1]);
});

test("a line that no longer meets the moved one goes on to the next, never out of the panel", () => {
  const lines = [[[-30, 0], [30, 0]], [[10, -30], [10, 0]], [[-30, 20], [30, 20]]];
  const after = carriedLines(lines, 0, [[-30, 0], [0, 0]], SQUARE);
  near(after[1][1], [10, 20]);
  const steep = carriedLines([[[-30, 0], [30, 0]], [[20, -20], [25, 0]]], 0, [[-30, -40], [30, 200]], SQUARE);
  assert.ok(steep[1].every((p) => inside(SQUARE, p) || sides(SQUARE).some((side) => nearestOn(side, p).far < 1e-6)));
  const two = carriedLines([[[-30, 0], [30, 0]], [[0, -30], [0, 0]], [[0, 0], [0, 30]]], 0, [[-30, 4], [30, 4]], SQUARE);
  near(two[1][1], [0, 4]);
  near(two[2][0], [0, 4]);
});

test("a cut pushed sideways past the end of a side goes on along the next one", () => {
  const pushed = slid([[-20, -30], [-20, 30]], [14, 0], sides([[-30, -30], [-10, -30], [10, -20], [30, -20], [30, 30], [-30, 30]]));
  near(pushed[0], [-6, -28]);
  near(pushed[1], [-6, 30]);
});

test("a cut pushed sideways keeps its ends on the lines they lie on", () => {
  const pushed = slid([[0, -30], [0, 30]], [7, 99], sides(SQUARE));
  near(pushed[0], [7, -30]);
  near(pushed[1], [7, 30]);
});

test("an end moves along its line, or freely", () => {
  near(endMoved([[0, -30], [0, 30]], 1, [4, 9], sides(SQUARE))[1], [4, 30]);
  near(endMoved([[0, 0], [0, 10]], 1, [4, 9], sides(SQUARE))[1], [4, 19]);
});

test("a line is drawn on to the next one ahead, never back", () => {
  near(drawnOn([[0, -30], [0, 0]], 1, [...sides(SQUARE), [[-30, 20], [30, 20]]]), [0, 20]);
  near(drawnOn([[0, -20], [0, 0]], 0, sides(SQUARE)), [0, -30]);
  assert.equal(drawnOn([[0, 0], [0, 10]], 1, [[[5, 20], [30, 20]]]), null);
});

test("taking a cut away draws on what ended on it, and new ends do not cross each other", () => {
  const rim = sides(SQUARE);
  const [stem] = without([[[-30, 0], [30, 0]], [[0, 0], [0, 30]]], 0, rim, true);
  near(stem[0], [0, -30]);
  const two = without([[[0, -30], [0, 30]], [[-30, 10], [0, 0]], [[-30, -20], [0, -5]]], 0, rim, false);
  near(two[0][1], [30, -10]);
  near(two[1][1], meeting(two[0], [[-30, -20], [0, -5]]));
  assert.deepEqual(without([[[0, -30], [0, 30]], [[10, -30], [10, 30]]], 0, rim, true), [[[10, -30], [10, 30]]]);
});

test("even angles and nearest places", () => {
  near(snapTurn([0, 0], [10, 0.5], 0, 15), [Math.hypot(10, 0.5), 0]);
  assert.deepEqual(nearestOn([[0, 0], [10, 0]], [14, 3]), { at: [10, 0], t: 1, far: 5 });
});

test("the hand takes an end before a middle, and nothing out of reach", () => {
  const cuts = [[[-30, 0], [30, 0]], [[0, 0], [0, 30]]];
  assert.deepEqual([grasped(cuts, [29, 1], 3, null).kind, grasped(cuts, [29, 1], 3, null).end], ["end", 1]);
  assert.equal(grasped(cuts, [15, 1], 3, null).kind, "slide");
  assert.equal(grasped(cuts, [15, 9], 3, null), null);
  assert.equal(grasped(cuts, [0.5, 0.5], 3, 1).index, 1);
});

test("an end is caught by even angles, corners and lines, within reach only", () => {
  const rails = railsOf(SQUARE, [[[-30, 0], [30, 0]]], -1);
  near(aimed([0, -20], [0.4, 28.5], rails, 2), [0, 30], 0.01);
  near(aimed([0, -20], [29.2, 29.5], rails, 2), [30, 30]);
  near(aimed([0, -20], [13, 7.7], rails, 0.5), [13, 7.7]);
});

test("an end dropped outside the outline is brought onto it", () => {
  assert.deepEqual(broughtIn([0, 0], [10, 10], SQUARE), [10, 10]);
  near(broughtIn([0, 0], [60, 20], SQUARE), [30, 10]);
  near(broughtIn([0, -30], [0, 80], SQUARE), [0, 30]);
  near(broughtIn([0, -30], [4, -50], SQUARE), [4, -30]);
  near(broughtIn([-30, 0], [30, 0], SQUARE), [30, 0]);
});

test("a cut turns about its middle and stays from line to line", () => {
  const after = turned([[-30, 0], [30, 0]], 45, sides(SQUARE));
  near(after[0], [-30, -30], 1e-6);
  near(after[1], [30, 30], 1e-6);
});

test("the whole panel is shown with linen round it; zooming keeps the place under the finger", () => {
  const whole = fitted([-55, -46, 55, 46], 900, 500, 40);
  assert.equal(whole.width / whole.mm, 900);
  assert.ok(Math.abs((whole.height - 92) / whole.mm - 80) < 1e-9);
  const at = [20, 10];
  const close = zoomed(whole, all(whole), 3, at);
  const place = (camera) => [(at[0] - seenBy(whole, camera).left) / seenBy(whole, camera).mm, (-at[1] - seenBy(whole, camera).top) / seenBy(whole, camera).mm];
  near(place(close), place(all(whole)), 1e-6);
  const back = zoomed(whole, close, 0.001, at);
  near([back.x, back.y], [0, 0]);
  assert.equal(back.near, 1);
  assert.ok(moved(whole, close, [1e6, 0]).x < 900 * whole.mm);
});

test("two points of a sketch with their true distance give its scale", () => {
  const sheet = { width: 1000, height: 500, x: 10, y: 20, scale: 0.2, turn: 0, seen: 1, shown: true };
  const after = rescaled(sheet, [0, 0], [30, 40], 100);
  assert.equal(after.scale, 0.4);
  assert.deepEqual([after.x, after.y], [20, 40]);
  assert.equal(rescaled(sheet, [0, 0], [0, 0], 100), sheet);
  assert.equal(lying(after), "translate(20 -40) rotate(0) scale(0.4) translate(-500 -250)");
});

test("threads are paths of hundredths of a mm, y down", () => assert.equal(pathOf([100, -50, 0, 25]), "M1 0.5L0 -0.25"));
