import assert from "node:assert/strict";
import test from "node:test";
import { led, meant, STOOD_MS } from "/parts/pointing.js";

const event = (pointerType, movementX, movementY = 0) => ({ pointerType, movementX, movementY });

test("a page that moves under a resting pointer shows nothing", () => {
  assert.ok(!led(event("mouse", 0)) && !led(event("touch", 5)));
  assert.ok(led(event("mouse", 1)) && led(event("pen", 0, -1)));
});

test("a press takes what the hand was led to", () => {
  const press = { key: "b", aimed: "b", by: "mouse", keys: false, stood: 0 };
  assert.ok(meant(press));
  assert.ok(!meant({ ...press, aimed: "a" }));
  assert.ok(!meant({ ...press, aimed: null, stood: 10 * STOOD_MS }));
  assert.ok(meant({ ...press, aimed: null, keys: true }));
  assert.ok(!meant({ ...press, by: "touch", stood: STOOD_MS - 1 }) && meant({ ...press, aimed: null, by: "touch", stood: STOOD_MS }));
});
