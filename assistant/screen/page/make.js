// Elements with text; never markup. Everything a cook said goes through textContent.
/** @param {string} name @param {Record<string, any>} given @param {(Node | string | null | undefined)[]} inside
 * @returns {any} */
export function make(name, given = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key === "class") made.className = value;
    else if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value != null) made.setAttribute(key, value);
  }
  for (const part of inside) if (part != null) made.append(part);
  return made;
}

const SVG = "http://www.w3.org/2000/svg";
/** @param {string} name @param {Record<string, string | number>} given @param {string | null} words */
export function draw(name, given = {}, words = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(given)) made.setAttribute(key, String(value));
  if (words !== null) made.textContent = words;
  return made;
}

// What was kept on this device under a name; null where nothing was, or it can't be read any more.
/** @param {string} name @param {Storage} place */
export function kept(name, place = localStorage) {
  try {
    return JSON.parse(place.getItem(name) ?? "null");
  } catch {
    return null;
  }
}

/** An element of the page by its id, with what forms and dialogs have besides.
 * @typedef {HTMLElement & Pick<HTMLDialogElement, "showModal" | "close" | "open"> & Pick<HTMLInputElement, "value" | "disabled">} Placed
 * @type {(id: string) => Placed} */
export const at = (id) => /** @type {any} */ (document.getElementById(id));

// A number and its unit stay on one line.
/** @param {string} words */
export const bound = (words) => words.replace(/(\d) (?=°|(?:k?g|m?l|s|min|h)\b)/g, "$1\u00a0");

// Changes the text only where it differs, so that a screen reader is not told the same again.
/** @param {string} id @param {string} words */
export function tell(id, words) {
  const place = at(id);
  const text = bound(words);
  if (place.textContent !== text) place.textContent = text;
  return place;
}

/** @param {string} id @param {boolean} visible */
export function show(id, visible) {
  at(id).hidden = !visible;
}

/** @param {string | number} time */
export const hour = (time) =>
  new Date(time).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

// What is old must say how old: the day too, unless it is today.
/** @param {string | number} time */
export function when(time) {
  const day = new Date(time);
  if (day.toDateString() === new Date().toDateString()) return `at ${hour(time)}`;
  return `on ${day.toLocaleDateString("en-GB", { day: "numeric", month: "long" })} at ${hour(time)}`;
}
