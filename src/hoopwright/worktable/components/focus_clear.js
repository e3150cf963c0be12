// What has the focus is seen: the totals, which stay at the bottom of the window, never lie over it.
const AIR = 8; // px between what has the focus and the bar

/**
 * How far the page must go up so that what lies between `top` and `bottom` is clear of a bar that begins at `bar`; never so far that its beginning leaves the window.
 * @param {{ top: number, bottom: number }} box @param {number} bar
 */
export function clearing(box, bar) {
  return Math.max(0, Math.min(box.bottom + AIR - bar, box.top - AIR));
}

/** Keep what the keys have come to clear of the totals; a finger or a pointer moves nothing. @param {FocusEvent} event */
export function keepClear(event) {
  const at = /** @type {Element} */ (event.target);
  const bar = document.querySelector(".totals");
  if (!bar || !at.matches(":focus-visible") || at.closest("dialog, .totals")) return;
  requestAnimationFrame(() => at.isConnected && window.scrollBy(0, clearing(at.getBoundingClientRect(), bar.getBoundingClientRect().top)));
}
