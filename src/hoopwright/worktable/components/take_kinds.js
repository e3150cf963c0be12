// Which kinds of stitch files are made: presses turned into lists of kinds. The order is that of the kinds that there are. No page.

/** Another kind, or one less; the last one stays: without a stitch file there is nothing to sew from. @param {string[]} all @param {string[]} chosen @param {string} key */
export function toggled(all, chosen, key) {
  const on = chosen.includes(key) ? chosen.filter((k) => k !== key) : [...chosen, key];
  return on.length ? all.filter((k) => on.includes(k)) : chosen;
}

/** Whether only this kind is chosen. @param {string[]} chosen @param {string} key */
export const alone = (chosen, key) => chosen.length === 1 && chosen[0] === key;
