// The hoop on two canvases: below the cloth with the finished thread, above it the needle and whatever is pointed at.
//
// While the view of the cloth stays the same, only new stitches are drawn. When it changes, the cloth is filled and all stitches that
// lie on what shows of it are drawn again in the order of sewing, beside the cloth that came to lie later.
// Finished pictures are kept (as many as a bound of pixels allows), so that going back draws from the nearest of them.

import { after, carry, placed, scaleOf, squeezed, undone, view, WHOLE } from "/parts/player_camera.js";
import { BOBBIN, overlay, ringsPath, roundField } from "/parts/player_overlay.js";
import { inks, mixed, strands } from "/parts/player_thread.js";

const KEPT_PIXELS = 24e6;
const KEEP_EACH = 10000; // stitches
const OVER = { width: 0, height: 0 };

/** @typedef {{ view: number, done: number, canvas: HTMLCanvasElement }} Kept */

export class Painter {
  /** @param {HTMLCanvasElement} work @param {HTMLCanvasElement} over */
  constructor(work, over) {
    this.work = work;
    this.over = over;
    this.ctx = work.getContext("2d");
    this.top = over.getContext("2d");
    this.size = OVER;
    this.ratio = 1;
    this.camera = WHOLE;
    this.side = "top";
    this.sheet = null;
    /** @type {import("/parts/player_prints.js").Prints | null} */
    this.prints = null;
    this.shown = { view: -2, done: 0 };
    /** @type {Kept[]} */
    this.kept = [];
    this.tints = { quiet: "#5d574b", hoop: "#b9a98c", ink: "#2a2823" };
  }

  /** Show another sheet, another side, or the same from elsewhere: nothing that was drawn can be used again. */
  fresh(changes = {}) {
    Object.assign(this, changes);
    this.kept.length = 0;
    this.still = null;
    this.shown = { view: -2, done: 0 };
  }

  resize(width, height, ratio) {
    const size = { width: Math.max(1, Math.round(width * ratio)), height: Math.max(1, Math.round(height * ratio)) };
    if (size.width === this.size.width && size.height === this.size.height) return false;
    for (const canvas of [this.work, this.over]) Object.assign(canvas, size);
    this.fresh({ size, ratio });
    return true;
  }

  get map() {
    return view(this.sheet.field, this.size, this.camera, this.side);
  }

  get scale() {
    return scaleOf(this.sheet.field, this.size, this.camera);
  }

  /** The cloth as view `seen` with the first `done` stitches. Returns how many stitches had to be drawn. */
  paint(seen, done) {
    if (seen === this.shown.view && done === this.shown.done) return 0;
    let drawn = 0;
    if (seen !== this.shown.view || done < this.shown.done) drawn += this.restore(seen, done);
    while (this.shown.done < done) {
      const next = Math.min(done, (Math.floor(this.shown.done / KEEP_EACH) + 1) * KEEP_EACH);
      drawn += this.add(this.shown.done, next);
      this.shown.done = next;
      if (next % KEEP_EACH === 0) this.keep();
    }
    return drawn;
  }

  /** Begin from the nearest picture that was kept, or anew. */
  restore(seen, done) {
    let best = null;
    for (const k of this.kept) if (k.view === seen && k.done <= done && (!best || k.done > best.done)) best = k;
    this.plain();
    this.ctx.clearRect(0, 0, this.size.width, this.size.height);
    if (best) {
      this.ctx.drawImage(best.canvas, 0, 0);
      this.shown = { view: seen, done: best.done };
      this.kept.push(...this.kept.splice(this.kept.indexOf(best), 1));
      return 0;
    }
    const begin = Math.min(done, this.sheet.begins.get(seen) ?? done); // when the cloth came to lie so
    const drawn = this.draw(this.ctx, seen, begin);
    this.shown = { view: seen, done: begin };
    this.keep();
    return drawn;
  }

  /** Keep a copy of the picture as it stands. */
  keep() {
    const { view: seen, done } = this.shown;
    if (this.kept.some((k) => k.view === seen && k.done === done)) return;
    const most = Math.max(3, Math.floor(KEPT_PIXELS / (this.size.width * this.size.height)));
    const spare = this.kept.length >= most ? this.kept.shift().canvas : null;
    const canvas = spare ?? Object.assign(document.createElement("canvas"), this.size);
    const ctx = canvas.getContext("2d");
    ctx.clearRect(0, 0, this.size.width, this.size.height);
    ctx.drawImage(this.work, 0, 0);
    this.kept.push({ view: seen, done, canvas });
  }

  /** A picture of a view with so many stitches, from those kept or drawn now. */
  picture(seen, done) {
    const have = this.kept.find((k) => k.view === seen && k.done === done);
    if (have) return have.canvas;
    this.paint(seen, done);
    this.keep();
    return this.kept[this.kept.length - 1].canvas;
  }

  plain(ctx = this.ctx) {
    ctx.setTransform(1, 0, 0, 1, 0, 0);
    ctx.globalAlpha = 1;
    ctx.lineJoin = "round";
    ctx.lineCap = "round";
    ctx.setLineDash([]);
  }

  /** Add stitches on top of the picture. */
  add(from, to) {
    const { needles } = this.sheet;
    return this.inTime(this.ctx, from, to, { owners: this.side === "under" ? needles.under : needles.top });
  }

  /** Draw stitches in the order in which they are sewn, but those that are `left` out. */
  inTime(ctx, from, to, left) {
    const { needles, ends, colours } = this.sheet;
    this.plain(ctx);
    ctx.lineCap = "butt";
    let drawn = 0;
    let block = 0;
    while (block < ends.length && ends[block] <= from) block++;
    for (let at = from; at < to && block < ends.length; block++) {
      const end = Math.min(to, ends[block]);
      const ink = inks(this.side === "under" ? BOBBIN : colours[block], this.scale, this.ratio * 0.8);
      drawn += strands(ctx, needles, at, end, this.map, ink, this.size, left);
      at = end;
    }
    return drawn;
  }

  /**
   * Draw a whole view with its stitches: first the cloth, then the stitches in the order of sewing, but none over cloth that
   * came to lie after it was sewn.
   */
  draw(ctx, seen, done) {
    if (seen < 0) return 0;
    const { hooped, since, born, needles, names, surfaces } = this.sheet;
    const by = this.bareLace(this.rows(seen)) ? -1 : since.get(seen) ?? 0;
    const open = new Uint8Array(surfaces.length);
    const rows = this.rows(seen);
    for (const row of rows) {
      if (hooped.has(seen) && names[row.piece]?.foundation) this.within(ctx, () => this.cloth(ctx, row));
      else this.cloth(ctx, row);
      if (row.surface !== undefined) open[row.surface] = 1;
    }
    if (this.bareLace(rows)) open.fill(1);
    let drawn = rows.reduce((sum, row) => sum + this.sewnBefore(ctx, row) + this.carried(ctx, row, done, by), 0);
    const [owners, gone] = this.side === "under" ? [needles.under, needles.underGone] : [needles.top, needles.topGone];
    const times = [...new Set([0, ...rows.map((row) => born[row.surface] ?? 0).filter((time) => time < done), done])].sort((a, b) => a - b);
    for (let k = 0; k + 1 < times.length; k++) {
      const later = rows.filter((row) => row.surface !== undefined && born[row.surface] >= times[k + 1]);
      ctx.save();
      if (later.length) this.beside(ctx, later);
      drawn += this.inTime(ctx, times[k], times[k + 1], { owners, seen: open, gone, by });
      ctx.restore();
    }
    return drawn;
  }

  /** Lace stays when what it was sewn on is gone. */
  bareLace(rows) {
    return !rows.length && this.sheet.holes.cuts === null;
  }

  /** Draw only beside some rows. */
  beside(ctx, rows) {
    const { width, height } = this.size;
    for (const row of rows) {
      const path = new Path2D();
      path.rect(0, 0, width, height);
      path.addPath(pathOf(row), new DOMMatrix(this.map));
      this.plain(ctx);
      ctx.clip(path, "evenodd");
    }
  }

  /** Draw only inside the hoop. */
  within(ctx, work) {
    ctx.save();
    this.plain(ctx);
    ctx.setTransform(...this.map);
    roundField(ctx, this.sheet.field);
    ctx.clip();
    work();
    ctx.restore();
  }

  /** The rows of a view, the farthest first. */
  rows(seen) {
    const rows = this.sheet.views[seen][this.side];
    return this.side === "top" ? rows : rows.slice().reverse();
  }

  cloth(ctx, row, map = this.map, shade = 0, printed = true) {
    this.plain(ctx);
    ctx.setTransform(...map);
    const path = pathOf(row);
    const lace = this.sheet.laces[row.piece];
    ctx.globalAlpha = lace ? 0.25 : 1;
    const print = printed ? this.prints?.pattern(ctx, row, this.sheet, this.scale) : null;
    ctx.fillStyle = print ?? mixed(row.paint, "#000000", shade);
    ctx.fill(path, "evenodd");
    const foundation = this.sheet.names[row.piece]?.foundation;
    if (!row.right && !foundation) {
      ctx.fillStyle = this.hatch(ctx);
      ctx.fill(path, "evenodd");
    }
    ctx.globalAlpha = foundation || lace ? 0.35 : 1;
    ctx.strokeStyle = row.edge;
    ctx.lineWidth = Math.max(0.25, (this.ratio * 0.8) / this.scale);
    ctx.stroke(path);
    this.plain(ctx);
    if (lace) this.lace(ctx, row, lace, map);
  }

  /** An accent is thread and no cloth. */
  lace(ctx, row, lace, map) {
    ctx.save();
    ctx.setTransform(...map);
    ctx.clip(pathOf(row), "evenodd");
    this.plain(ctx);
    const place = after(map, placed(this.sheet.surfaces[row.surface].placing));
    strands(ctx, lace, 0, lace.opens.length, place, inks(row.paint, this.scale, this.ratio * 0.8), this.size);
    ctx.restore();
  }

  /** Wrong sides are hatched, as in the booklet. */
  hatch(ctx) {
    if (!this.pattern) {
      const tile = Object.assign(document.createElement("canvas"), { width: 22, height: 22 });
      const pen = tile.getContext("2d");
      pen.strokeStyle = "rgba(30, 25, 20, 0.28)";
      pen.lineWidth = 2.4;
      for (const x of [-22, 0, 22]) {
        pen.moveTo(x - 2, 24);
        pen.lineTo(x + 24, -2);
      }
      pen.stroke();
      this.pattern = ctx.createPattern(tile, "repeat");
      this.pattern.setTransform(new DOMMatrix([0.1, 0, 0, 0.1, 0, 0]));
    }
    return this.pattern;
  }

  /** What was sewn on a section or a panel in its own hooping, before it was laid here; sections within it first. */
  sewnBefore(ctx, row, sheet = this.sheet, map = this.map) {
    const other = row.surface === undefined || !row.right ? null : sheet.others.get(sheet.pieced[row.piece]);
    if (!other) return 0;
    const frame = sheet.frames[row.piece];
    const lying = after(map, placed(sheet.surfaces[row.surface].placing));
    const place = frame ? after(lying, placed(frame)) : lying;
    ctx.save();
    ctx.setTransform(...map);
    ctx.clip(pathOf(row), "evenodd");
    let drawn = other.finished.rows.reduce((sum, within) => sum + this.sewnBefore(ctx, within, other, place), 0);
    this.plain(ctx);
    ctx.lineCap = "butt";
    const { needles, finished, ends, colours } = other;
    ends.forEach((end, block) => {
      const ink = inks(colours[block], this.scale, this.ratio * 0.8);
      const left = { owners: needles.top, seen: finished.open, gone: needles.topGone, by: finished.by };
      drawn += strands(ctx, needles, block ? ends[block - 1] : 0, end, place, ink, this.size, left);
    });
    ctx.restore();
    return drawn;
  }

  /** Stitches that were sewn on the side of the sheet that a row shows while the sheet lay elsewhere, but those cut off by the moment `by`. */
  carried(ctx, row, done, by) {
    const { families, needles, colours } = this.sheet;
    let drawn = 0;
    for (const { surface, carried } of row.surface === undefined ? [] : families[row.surface]) {
      const lists = [
        [this.sheet.under[surface], BOBBIN, needles.underGone],
        [this.sheet.top[surface], null, needles.topGone],
      ].filter(([list]) => list.length && list[0] < done);
      if (!lists.length) continue;
      ctx.save();
      ctx.setTransform(...this.map);
      ctx.clip(pathOf(row), "evenodd");
      this.plain(ctx);
      ctx.lineCap = "butt";
      for (const [list, bobbin, gone] of lists) {
        for (let k = 0; k < list.length && list[k] < done; k += 3) {
          const ink = inks(bobbin ?? colours[list[k + 2]], this.scale, this.ratio * 0.8);
          drawn += strands(ctx, needles, list[k], Math.min(list[k + 1], done), after(this.map, carried), ink, this.size, { gone, by });
        }
      }
      ctx.restore();
    }
    return drawn;
  }

  /**
   * Handwork under way, from 0 to 1: cloth is laid, folded, cut, or the picture simply changes.
   * @param {object} moment @param {number} before View before it. @param {number} done @param {number} phase
   */
  change(moment, before, done, phase) {
    const eased = phase * phase * (3 - 2 * phase);
    const ctx = this.ctx;
    const fold = moment.fold;
    const laid = moment.laid && moment.laid.side === this.side;
    const base = this.picture(fold ? fold.rest : before, done);
    const over = fold || laid ? null : this.picture(moment.lies, done);
    this.plain();
    ctx.clearRect(0, 0, this.size.width, this.size.height);
    if (fold && fold.onto !== this.side) this.folding(fold, eased);
    ctx.drawImage(base, 0, 0);
    if (fold && fold.onto === this.side) this.folding(fold, eased);
    if (laid) this.laying(moment, eased);
    if (over) {
      ctx.globalAlpha = eased;
      ctx.drawImage(over, 0, 0);
      ctx.globalAlpha = 1;
    }
    this.shown = { view: -2, done: 0 };
  }

  folding(fold, eased) {
    const by = -Math.cos(eased * Math.PI);
    const lift = Math.sin(eased * Math.PI);
    const back = this.side === "top" ? "under" : "top";
    const rows = fold[by < 0 ? back : this.side];
    const map = after(this.map, squeezed(fold.line, by));
    this.ctx.shadowColor = "rgba(20, 15, 10, 0.45)";
    this.ctx.shadowBlur = 16 * lift * this.ratio;
    this.ctx.shadowOffsetY = 6 * lift * this.ratio;
    this.moving(this.side === "top" ? rows : rows.slice().reverse(), map, 0.3 * lift);
  }

  /**
   * Draw cloth under way with its shadow. Printed cloth is drawn once as it lies, and that picture is led along: to fill with a
   * print in every frame takes too long.
   */
  moving(rows, map, shade = 0) {
    const { ctx } = this;
    const printed = rows.some((row) => this.prints?.has(row));
    for (const row of rows) this.cloth(ctx, row, map, shade, !printed);
    ctx.shadowColor = "transparent";
    if (!printed) return;
    const { canvas, x, y } = this.asItLies(rows);
    const led = after(map, undone(this.map));
    ctx.setTransform(led[0], led[1], led[2], led[3], Math.round(led[4]), Math.round(led[5]));
    ctx.drawImage(canvas, x, y);
    for (const row of shade ? rows : []) this.shaded(ctx, row, map, shade);
    this.plain();
  }

  /** A picture of rows alone as they lie, kept while they are under way. */
  asItLies(rows) {
    const key = rows.map((row) => this.prints.has(row) && row.rings).filter(Boolean);
    if (this.still?.key.length !== key.length || !key.every((rings, i) => rings === this.still.key[i])) {
      const { x, y, width, height } = this.boxOf(rows);
      const canvas = Object.assign(document.createElement("canvas"), { width, height });
      const ctx = canvas.getContext("2d");
      for (const row of rows) this.cloth(ctx, row, after([1, 0, 0, 1, -x, -y], this.map));
      this.still = { key, canvas, x, y };
    }
    return this.still;
  }

  /** The pixels of the picture in which rows lie. */
  boxOf(rows) {
    const at = rows.flatMap((row) => row.rings.flat().map(([x, y]) => carry(this.map, x, y)));
    const span = (k, most) => [Math.max(0, Math.floor(Math.min(...at.map((p) => p[k]))) - 4), Math.min(most, Math.ceil(Math.max(...at.map((p) => p[k]))) + 4)];
    const [[left, right], [top, low]] = [span(0, this.size.width), span(1, this.size.height)];
    return { x: left, y: top, width: Math.max(1, right - left), height: Math.max(1, low - top) };
  }

  shaded(ctx, row, map, shade) {
    ctx.setTransform(...map);
    ctx.fillStyle = `rgba(0, 0, 0, ${shade})`;
    ctx.fill(pathOf(row), "evenodd");
  }

  laying(moment, eased) {
    const rows = this.rows(moment.lies).filter((r) => r.piece === moment.piece);
    const map = after(this.map, [1, 0, 0, 1, 0, (eased - 1) * 22]);
    this.ctx.shadowColor = "rgba(20, 15, 10, 0.4)";
    this.ctx.shadowBlur = 18 * (1 - eased) * this.ratio;
    this.ctx.shadowOffsetY = 10 * (1 - eased) * this.ratio;
    this.moving(rows, map);
  }

  /** What lies over the work: the hoop, the field, a map, outlines, the needle. */
  overlay(what) {
    this.plain(this.top);
    this.top.clearRect(0, 0, this.size.width, this.size.height);
    if (this.sheet) overlay(this.top, this, what);
  }
}

/** @param {{ rings: number[][][], path?: Path2D }} row */
function pathOf(row) {
  row.path ??= ringsPath(row.rings);
  return row.path;
}

/** For each surface the others of the same side of the same sheet, with the map that brings their stitches to it. */
export function familiesOf(surfaces) {
  return surfaces.map((mine) =>
    surfaces.flatMap((other, surface) => {
      if (other === mine || other.piece !== mine.piece || other.right !== mine.right) return [];
      return [{ surface, carried: after(placed(mine.placing), undone(placed(other.placing))) }];
    }),
  );
}
