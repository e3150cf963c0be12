// Drawing thread: many stitches as few paths. Stitches come from typed arrays and go straight to the canvas.

import { NOWHERE, UNIT } from "/parts/player_decode.js";

const THREAD = 0.38; // mm, how wide a thread lies
const FULL = 3.2; // pixels from which a thread shows its edges and its light middle
const PLAIN_ROW = 600; // stitches to a path
const FULL_ROW = 12; // fewer, so that later threads lie over the edges of earlier ones

/** Mix two colours "#rrggbb". @param {string} one @param {string} other @param {number} share of the other */
export function mixed(one, other, share) {
  const part = (text, k) => parseInt(text.slice(2 * k + 1, 2 * k + 3), 16);
  const channel = (k) => Math.round(part(one, k) + (part(other, k) - part(one, k)) * share);
  return "#" + [0, 1, 2].map((k) => channel(k).toString(16).padStart(2, "0")).join("");
}

/** How threads are drawn at so many pixels to the mm. @param {string} colour @param {number} scale @param {number} least pixels */
export function inks(colour, scale, least) {
  const wide = THREAD * scale;
  if (wide < FULL) return { row: PLAIN_ROW, strokes: [[colour, Math.max(least, wide)]] };
  return {
    row: FULL_ROW,
    strokes: [
      [mixed(colour, "#14100c", 0.55), wide * 1.12],
      [colour, wide * 0.8],
      [mixed(colour, "#ffffff", 0.42), wide * 0.24],
    ],
  };
}

/**
 * Draw the stitches to the positions from `from` up to `to`, all of one block, carried by an affine map from mm to pixels.
 * `left` tells which to leave out: by `owners` those that lie nowhere, or on no surface that is `seen`; and those cut off by the moment `by`. Returns how many were drawn.
 * @param {CanvasRenderingContext2D} ctx @param {import("/parts/player_decode.js").Needles} needles @param {number} from @param {number} to
 * @param {number[]} map @param {ReturnType<typeof inks>} ink @param {{ width: number, height: number }} size @param {{ owners?: Uint16Array, seen?: Uint8Array, gone?: Uint16Array, by?: number } | null} left
 */
export function strands(ctx, needles, from, to, map, ink, size, left = null) {
  const { xy, opens } = needles;
  const [a, b, c, d] = [map[0] / UNIT, map[1] / UNIT, map[2] / UNIT, map[3] / UNIT];
  const [e, f] = [map[4], map[5]];
  const rim = ink.strokes[0][1];
  const [right, low] = [size.width + rim, size.height + rim];
  const owners = left?.owners ?? null;
  const gone = left?.gone ?? null;
  const by = left?.by ?? 0;
  const seen = left?.seen ?? null;
  let drawn = 0;
  let held = 0;
  let px = 0;
  let py = 0;
  let down = false; // whether the path ends at the position before
  if (from > 0) {
    px = a * xy[2 * from - 2] + c * xy[2 * from - 1] + e;
    py = b * xy[2 * from - 2] + d * xy[2 * from - 1] + f;
  }
  ctx.beginPath();
  for (let i = from; i < to; i++) {
    const x = a * xy[2 * i] + c * xy[2 * i + 1] + e;
    const y = b * xy[2 * i] + d * xy[2 * i + 1] + f;
    const out = (x < -rim && px < -rim) || (y < -rim && py < -rim) || (x > right && px > right) || (y > low && py > low);
    if (opens[i] || out || (owners !== null && (seen === null ? owners[i] === NOWHERE : !seen[owners[i]])) || (gone !== null && gone[i] <= by)) {
      down = false;
    } else {
      if (!down) ctx.moveTo(px, py);
      ctx.lineTo(x, y);
      down = true;
      drawn++;
      if (++held >= ink.row) {
        stroke(ctx, ink);
        ctx.beginPath();
        held = 0;
        down = false;
      }
    }
    px = x;
    py = y;
  }
  if (held) stroke(ctx, ink);
  return drawn;
}

function stroke(ctx, ink) {
  for (const [colour, wide] of ink.strokes) {
    ctx.strokeStyle = colour;
    ctx.lineWidth = wide;
    ctx.stroke();
  }
}
