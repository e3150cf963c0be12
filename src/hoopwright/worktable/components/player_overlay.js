// What lies over the work: the hoop and its field, a map, outlines of pieces, what is cut off, the needle.

import { carry } from "/parts/player_camera.js";
import { mixed } from "/parts/player_thread.js";

export const BOBBIN = "#a39983"; // the thread that shows on the underside
const RIM = 8; // mm, how wide the hoop is drawn
const RING = 14; // mm from the field to the middle of the hoop

/** @param {number[][][]} rings */
export function ringsPath(rings) {
  const path = new Path2D();
  for (const ring of rings) {
    ring.forEach(([x, y], i) => (i ? path.lineTo(x, y) : path.moveTo(x, y)));
    path.closePath();
  }
  return path;
}

/** The path of the hoop's middle line, in mm. @param {CanvasRenderingContext2D} ctx @param {[number, number]} field */
export function roundField(ctx, [wide, high]) {
  ctx.beginPath();
  ctx.roundRect(-wide / 2 - RING, -high / 2 - RING, wide + 2 * RING, high + 2 * RING, RING + 2);
}

/**
 * @param {CanvasRenderingContext2D} ctx @param {import("/parts/player_canvas.js").Painter} painter
 * @param {{ hooped: boolean, outlines?: number[], cuts?: number[], ring?: number[] | null, chart?: Function | null, needle?: object | null }} what Shapes by their number.
 */
export function overlay(ctx, painter, { hooped, outlines = [], cuts = [], ring = null, chart = null, needle = null }) {
  const px = painter.ratio / painter.scale;
  const shape = (number) => {
    const found = painter.sheet.shapes[number];
    found.path ??= ringsPath(found);
    return found.path;
  };
  ctx.setTransform(...painter.map);
  if (chart) charted(ctx, painter, hooped, chart);
  if (hooped) hoop(ctx, painter, px);
  for (const number of outlines) outlined(ctx, shape(number), px);
  for (const number of cuts) cutting(ctx, shape(number), px);
  if (ring) ringed(ctx, ring, px);
  if (needle) needleAt(ctx, painter, needle);
}

/** A map; in the hoop it ends at the hoop. */
function charted(ctx, painter, hooped, chart) {
  ctx.save();
  if (hooped) {
    roundField(ctx, painter.sheet.field);
    ctx.clip();
  }
  chart(ctx);
  ctx.restore();
}

function hoop(ctx, painter, px) {
  const [wide, high] = painter.sheet.field;
  for (const [colour, width] of [[mixed(painter.tints.hoop, "#000000", 0.25), RIM + 1], [painter.tints.hoop, RIM]]) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = width;
    roundField(ctx, painter.sheet.field);
    ctx.stroke();
  }
  ctx.strokeStyle = "#5d574b";
  ctx.lineWidth = 1.2 * px;
  ctx.setLineDash([5 * px, 4 * px]);
  ctx.strokeRect(-wide / 2, -high / 2, wide, high);
  ctx.setLineDash([]);
}

/** A piece that is pointed at: dark and light side by side, to be seen on every cloth. */
function outlined(ctx, path, px) {
  ctx.strokeStyle = "#1b1713";
  ctx.lineWidth = 3.4 * px;
  ctx.stroke(path);
  ctx.strokeStyle = "#fff4d6";
  ctx.lineWidth = 1.5 * px;
  ctx.stroke(path);
}

/** The place of a finding. */
function ringed(ctx, [x, y], px) {
  for (const [colour, wide] of [["#fffdf8", 7], ["#9c1f3c", 3.5]]) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = wide * px;
    ctx.beginPath();
    ctx.arc(x, y, 16 * px, 0, 2 * Math.PI);
    ctx.stroke();
  }
}

function cutting(ctx, path, px) {
  ctx.fillStyle = "rgba(156, 31, 60, 0.28)";
  ctx.fill(path, "evenodd");
  ctx.strokeStyle = "#fffdf8";
  ctx.lineWidth = 4 * px;
  ctx.stroke(path);
  ctx.strokeStyle = "#9c1f3c";
  ctx.lineWidth = 2 * px;
  ctx.setLineDash([7 * px, 4 * px]);
  ctx.stroke(path);
  ctx.setLineDash([]);
}

/** The needle over its place with its thread from the position before; from under, the hook that goes round there. */
function needleAt(ctx, painter, { at, from, colour, lift }) {
  const map = painter.map;
  const [x, y] = carry(map, at[0], at[1]);
  painter.plain(ctx);
  if (painter.side === "under") hook(ctx, x, y, painter.ratio);
  else needle(ctx, x, y - lift * 9 * painter.ratio, painter.ratio, from && carry(map, from[0], from[1]), colour, 0.36 * painter.scale);
}

function hook(ctx, x, y, r) {
  for (const [colour, wide] of [["#1b1713", 3.5], [BOBBIN, 1.6]]) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = wide * r;
    ctx.beginPath();
    ctx.arc(x, y, 8 * r, 0.6, Math.PI * 1.9);
    ctx.stroke();
  }
}

function needle(ctx, x, tip, r, from, colour, thread) {
  const long = 62 * r;
  const eye = tip - 8 * r;
  ctx.strokeStyle = colour;
  ctx.lineWidth = Math.max(1.2 * r, Math.min(4 * r, thread));
  ctx.beginPath();
  if (from) ctx.moveTo(...from);
  else ctx.moveTo(x, eye);
  ctx.lineTo(x, eye);
  ctx.quadraticCurveTo(x + 14 * r, tip - 26 * r, x + 10 * r, tip - long - 12 * r);
  ctx.stroke();
  ctx.beginPath();
  ctx.moveTo(x, tip);
  ctx.lineTo(x + 2.2 * r, tip - 9 * r);
  ctx.lineTo(x + 2.6 * r, tip - long);
  ctx.lineTo(x - 2.6 * r, tip - long);
  ctx.lineTo(x - 2.2 * r, tip - 9 * r);
  ctx.closePath();
  ctx.fillStyle = "#e9ebee";
  ctx.strokeStyle = "#2a2823";
  ctx.lineWidth = 1.1 * r;
  ctx.fill();
  ctx.stroke();
  ctx.fillStyle = "#2a2823";
  ctx.fillRect(x - 0.7 * r, tip - 12 * r, 1.4 * r, 5 * r);
}
