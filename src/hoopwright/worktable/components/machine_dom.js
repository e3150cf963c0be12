// Making elements without any framework: text is always text, never markup.

/**
 * @param {string} tag "section.card" makes a section with the class "card"
 * @param {Record<string, any> | null} rest attributes; `on` holds listeners, null and false leave an attribute out
 * @param {...(Node | string | null | false)} inside
 */
export function el(tag, rest = null, ...inside) {
  const [name, ...classes] = tag.split(".");
  const made = document.createElement(name);
  if (classes.length) made.className = classes.join(" ");
  for (const [key, value] of Object.entries(rest ?? {})) {
    if (key === "on") for (const [what, work] of Object.entries(value)) made.addEventListener(what, /** @type {EventListener} */ (work));
    else if (key === "value") /** @type {HTMLInputElement} */ (made).value = value;
    else if (value !== null && value !== false && value !== undefined) made.setAttribute(key, value === true ? "" : String(value));
  }
  made.append(...inside.filter((one) => one !== null && one !== false && one !== undefined && one !== ""));
  return made;
}

/** A patch of colour. @param {string | null} colour */
export function patch(colour) {
  const made = el("span.m-patch", { "aria-hidden": "true" });
  if (colour) made.style.backgroundColor = colour; // set by the page itself: no style in markup
  else made.classList.add("none");
  return made;
}
