// Seam stitches on the board, drawn without the page's framework: threads of seams that did not change stay as they are.
import { toRaw } from "vue";

const SVG = "http://www.w3.org/2000/svg";

/** The path of a run of needle places in hundredths of a mm. @param {number[]} run */
export function pathOf(run) {
  let text = "";
  for (let i = 0; i < run.length; i += 2) text += `${i ? "L" : "M"}${run[i] / 100} ${-run[i + 1] / 100}`;
  return text;
}

/** @param {SVGGElement} group @param {any[]} rows */
export function drawThreads(group, rows) {
  const old = new Map([...group.children].map((node) => [node.dataset.key, node]));
  rows.forEach((reactiveRow, index) => {
    const row = toRaw(reactiveRow);
    const key = row.seam === null ? `${row.role}-${index}` : `${row.role}-${row.seam}-${rows.slice(0, index).filter((r) => r.seam === row.seam && r.role === row.role).length}`;
    const text = row.runs.map(pathOf).join("");
    let node = old.get(key);
    if (!node) {
      node = document.createElementNS(SVG, "path");
      node.dataset.key = key;
      group.append(node);
    }
    old.delete(key);
    if (node.drawn !== text) {
      node.drawn = text;
      node.setAttribute("d", text);
    }
    if (node.getAttribute("stroke") !== row.colour) node.setAttribute("stroke", row.colour);
  });
  for (const node of old.values()) node.remove();
}
