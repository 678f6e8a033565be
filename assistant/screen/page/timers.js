// Timers on the sheet: what is left, a minute more, and an end. Words go to the desk as if said.
import { clock, now } from "./clock.js";
import { at, make, show } from "./make.js";

/** @param {string} name */
export const stopWords = (name) => `stop the ${name} timer`;

/** A minute more than is left. @param {string} name @param {number} left in ms */
export const longerWords = (name, left) => `set a timer called ${name} for ${Math.max(0, Math.ceil(left / 1000)) + 60} seconds`;

export function drawTimers(running, say) {
  const place = at("running-list");
  show("running", running.length > 0);
  const key = JSON.stringify(running);
  if (place.dataset.key === key) return;
  place.dataset.key = key;
  place.replaceChildren(...running.map((each) => row(each, say)));
  tick();
}

function row({ name, kind, ends }, say) {
  const left = () => Date.parse(ends) - now();
  return make("li", {},
    make("span", {}, name),
    make("strong", { class: "left", "data-ends": ends }),
    kind === "timer" ? make("div", { class: "row" },
      make("button", { type: "button", "aria-label": `${name}: one minute more`, onclick: () => say(longerWords(name, left())) }, "+1 min"),
      make("button", { type: "button", "aria-label": `Stop ${name}`, onclick: () => say(stopWords(name)) }, "Stop")) : null);
}

function tick() {
  for (const place of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("#running-list .left")))
    place.textContent = clock(Date.parse(place.dataset.ends ?? "") - now());
}

export const mindTimers = () => setInterval(tick, 500);
