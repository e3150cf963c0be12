// The maps that are laid over the work: fetched when they are wanted, painted in mm, each with its legend.
import { ask, Trouble } from "/parts/ask.js";
import { classOf, holeClasses, holePicture, shades, thicknessClasses, TOO_MUCH } from "/parts/player_maps.js";
import { ringsPath } from "/parts/player_overlay.js";
import { t, texts } from "/parts/texts.js";

/** What the colours mean. @param {{ from: number, to: number, much: boolean }[]} classes @param {"thick" | "holes"} which */
function legend(classes, which) {
  const colours = shades(classes.filter((c) => !c.much).length);
  const said = (n) => n.toLocaleString(texts.language, { maximumFractionDigits: which === "thick" ? 2 : 1 });
  return classes.map((c, i) => ({
    colour: c.much ? TOO_MUCH : colours[i],
    much: c.much,
    text: c.much ? t(`sew.map.over.${which}`, { n: said(c.from) }) : c.to === Infinity ? t("sew.map.more", { n: said(c.from) }) : t("sew.map.range", { from: said(c.from), to: said(c.to) }),
  }));
}

/** How thick the cloth lies after a moment, counted in its hooping. @param {object} sheet @param {number} at */
export async function thicknessChart(sheet, at) {
  const rows = await ask(`${sheet.path}/thickness/${at}`);
  const classes = thicknessClasses(rows.map((r) => r.mm), sheet.foot);
  const colours = [...shades(classes.length - 1), TOO_MUCH];
  const shapes = rows.map((r) => ({ colour: colours[classOf(classes, r.mm)], path: ringsPath(r.rings) }));
  return {
    legend: () => legend(classes, "thick"),
    paint(ctx) {
      ctx.globalAlpha = 0.92;
      for (const s of shapes) {
        ctx.fillStyle = s.colour;
        ctx.fill(s.path, "evenodd");
      }
      ctx.globalAlpha = 1;
    },
  };
}

/** How close the needle holes lie when the hooping is sewn. @param {object} sheet */
export async function holesChart(sheet) {
  const { corner, cell, size, area, cuts } = sheet.holes;
  const answer = await fetch(`${sheet.path}/holes.bin`).catch(() => null);
  if (!answer?.ok) throw new Trouble(answer?.statusText ?? "offline", "", answer?.status ?? 0);
  const counts = new Uint8Array(await answer.arrayBuffer());
  const canvas = Object.assign(document.createElement("canvas"), { width: Math.max(1, size[0]), height: Math.max(1, size[1]) });
  if (counts.length) canvas.getContext("2d").putImageData(new ImageData(holePicture(counts, size, area, cuts), size[0], size[1]), 0, 0);
  return {
    legend: () => legend(holeClasses(area, cuts), "holes"),
    paint(ctx) {
      ctx.save();
      ctx.imageSmoothingEnabled = false;
      ctx.scale(1, -1);
      ctx.drawImage(canvas, corner[0] - cell / 2, -(corner[1] - cell / 2 + cell * size[1]), cell * size[0], cell * size[1]);
      ctx.restore();
    },
  };
}
