// Prints and photographs of cloths on the canvas, true to size. They lie on the right side of the cloth and go with it when it is
// laid, folded or turned: a pattern is led by the frame of the cloth (see hoopwright.outputs.screen.frames) and the placing of its surface.

import { photoAt } from "/parts/cloth_defs.js";
import { tile } from "/parts/cloth_prints.js";
import { after, placed } from "/parts/player_camera.js";

const FINEST = 64; // pixels to the mm that a tile is drawn with at most
const LARGEST = 2048; // pixels of the longer side of a tile

/** @typedef {import("/parts/player_camera.js").Affine} Affine */

/** The moves that a mark is drawn with, "translate(1 2) rotate(30)", as one map; angles in degrees, clockwise as y goes down. @param {string} text @returns {Affine} */
export function moves(text = "") {
  /** @type {Affine} */
  let map = [1, 0, 0, 1, 0, 0];
  for (const [, kind, inner] of text.matchAll(/(translate|rotate)\(([^)]*)\)/g)) {
    const [a, b = 0] = inner.trim().split(/[\s,]+/).map(Number);
    map = after(map, kind === "translate" ? [1, 0, 0, 1, a, b] : turned(a));
  }
  return map;
}

/** @param {number} degrees @returns {Affine} */
function turned(degrees) {
  const a = (degrees * Math.PI) / 180;
  return [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 0, 0];
}

/** Pixels to the mm for a tile that is seen at so many. @param {number} scale @param {number} longest mm */
export const fineness = (scale, longest) => Math.min(2 ** Math.ceil(Math.log2(Math.max(2, scale))), FINEST, LARGEST / longest);

/**
 * How the pixels of a tile lie in the hoop: y down in the tile, up in the hoop. @param {{ wide: number, high: number, turn: number }} of
 * @param {{ width: number, height: number }} pixels @param {number[] | undefined} frame @param {number[]} placing @returns {Affine}
 */
export function lying(of, pixels, frame, placing) {
  const own = after([1, 0, 0, -1, 0, 0], after(turned(of.turn), [of.wide / pixels.width, 0, 0, of.high / pixels.height, 0, 0]));
  const cloth = frame ? after(placed(frame), own) : own;
  return after(placed(placing), cloth);
}

/** Draw the marks of a tile. @param {CanvasRenderingContext2D} ctx @param {import("/parts/cloth_prints.js").Mark[]} marks @param {Affine} map mm to pixels */
export function drawMarks(ctx, marks, map) {
  for (const { is, set } of marks) {
    ctx.setTransform(...after(map, moves(/** @type {string | undefined} */ (set.transform))));
    const path = is === "path" ? new Path2D(String(set.d)) : new Path2D();
    if (is === "circle") path.arc(Number(set.cx), Number(set.cy), Number(set.r), 0, 2 * Math.PI);
    if (is === "rect") path.rect(Number(set.x), Number(set.y), Number(set.width), Number(set.height));
    ctx.globalAlpha = Number(set["fill-opacity"] ?? 1);
    if (set.fill !== "none") {
      ctx.fillStyle = String(set.fill);
      ctx.fill(path);
    }
    if (set.stroke) {
      ctx.strokeStyle = String(set.stroke);
      ctx.lineWidth = Number(set["stroke-width"]);
      ctx.stroke(path);
    }
    ctx.globalAlpha = 1;
  }
}

export class Prints {
  /** @param {string} name of the project @param {Record<string, any>} looks by the keys of the cloths @param {() => void} tell that a photograph has come */
  constructor(name, looks, tell) {
    this.tiles = new Map();
    this.drawn = new Map();
    for (const [key, look] of Object.entries(looks)) {
      if (look.way === "photo") this.photograph(key, photoAt(name, look), look, tell);
      else this.tiles.set(key, tile(look));
    }
  }

  photograph(key, address, look, tell) {
    const image = new Image();
    image.onload = () => {
      this.tiles.set(key, { wide: look.width, high: (look.width * look.pixels[1]) / look.pixels[0], turn: 0, marks: [], image });
      tell();
    };
    image.src = address;
  }

  /** Whether a row shows a print. @param {{ cloth?: string }} row */
  has(row) {
    return row.cloth !== undefined && this.tiles.has(row.cloth);
  }

  /** What the right side of a row's cloth is filled with; null for a plain one. @param {CanvasRenderingContext2D} ctx @param {{ cloth?: string, paint: string, on: number }} row @param {any} sheet @param {number} scale pixels to the mm */
  pattern(ctx, row, sheet, scale) {
    if (!this.has(row)) return null;
    const of = this.tiles.get(row.cloth);
    const found = this.drawing(ctx, row.cloth, of, row.paint, fineness(scale, Math.max(of.wide, of.high)));
    const { piece, placing } = sheet.surfaces[row.on];
    found.pattern.setTransform(new DOMMatrix(lying(of, found, sheet.frames[piece], placing)));
    return found.pattern;
  }

  drawing(ctx, key, of, paint, fine) {
    const known = `${key} ${paint} ${fine}`;
    if (!this.drawn.has(known)) {
      const [width, height] = [Math.max(1, Math.ceil(of.wide * fine)), Math.max(1, Math.ceil(of.high * fine))];
      const canvas = Object.assign(document.createElement("canvas"), { width, height });
      const pen = canvas.getContext("2d");
      pen.fillStyle = paint;
      pen.fillRect(0, 0, width, height);
      pen.imageSmoothingQuality = "high";
      if (of.image) pen.drawImage(of.image, 0, 0, width, height);
      drawMarks(pen, of.marks, [width / of.wide, 0, 0, height / of.high, 0, 0]);
      this.drawn.set(known, { width, height, pattern: ctx.createPattern(canvas, "repeat") });
    }
    return this.drawn.get(known);
  }
}
