// Elements with text; never markup. Everything a cook said goes through textContent.
export function make(name, given = {}, ...inside) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(given)) {
    if (key === "class") made.className = value;
    else if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (value === true) made.setAttribute(key, "");
    else if (value !== false && value != null) made.setAttribute(key, value);
  }
  made.append(...inside.filter((part) => part != null));
  return made;
}

const SVG = "http://www.w3.org/2000/svg";
export function draw(name, given = {}, words = null) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(given)) made.setAttribute(key, value);
  if (words !== null) made.textContent = words;
  return made;
}

export const at = (id) => document.getElementById(id);

// A number and its unit stay on one line.
export const bound = (words) => words.replace(/(\d) (?=°|(?:k?g|m?l|s|min|h)\b)/g, "$1\u00a0");

// Changes the text only where it differs, so that a screen reader is not told the same again.
export function tell(id, words) {
  const place = at(id);
  const text = bound(words);
  if (place.textContent !== text) place.textContent = text;
  return place;
}

export function show(id, visible) {
  at(id).hidden = !visible;
}

export const hour = (time) =>
  new Date(time).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

// What is old must say how old: the day too, unless it is today.
export function when(time) {
  const day = new Date(time);
  if (day.toDateString() === new Date().toDateString()) return `at ${hour(time)}`;
  return `on ${day.toLocaleDateString("en-GB", { day: "numeric", month: "long" })} at ${hour(time)}`;
}
