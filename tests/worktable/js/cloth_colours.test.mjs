import assert from "node:assert/strict";
import test from "node:test";
import { apart, labOf, showing } from "/parts/cloth_colours.js";

test("L*a*b* of sRGB primaries for D65 (published tables, two decimals)", () => {
  const told = { "#ff0000": [53.24, 80.09, 67.2], "#00ff00": [87.73, -86.18, 83.18], "#0000ff": [32.3, 79.19, -107.86], "#ffffff": [100, 0, 0], "#000000": [0, 0, 0] };
  for (const [colour, lab] of Object.entries(told)) labOf(colour).forEach((v, i) => assert.ok(Math.abs(v - lab[i]) < 0.05, `${colour}: ${v} is not ${lab[i]}`));
  assert.ok(Math.abs(apart("#000000", "#ffffff") - 100) < 0.01);
});

test("the thread that shows on the first row and on the cloth is proposed", () => {
  const threads = { chalk: { colour: "#f4f1e6" }, slate: { colour: "#56606b" }, gold: { colour: "#e0a52f" }, foam: { colour: "#cfe3df" } };
  assert.equal(showing(threads, ["#f4f1e6", "#2f4468"]), "gold");
  assert.equal(showing(threads, ["#e0a52f", "#e6d9c0"]), "slate");
  assert.equal(showing({ slate: { colour: "#56606b" }, gold: { colour: "#f2c94c" } }, ["#d9ccae"]), "slate"); // gold on cream is another hue, and as light
  assert.equal(showing({}, ["#000000"]), null);
});
