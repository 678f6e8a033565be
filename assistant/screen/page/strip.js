// The strip along the top: every batch and every timer of the kitchen; what is due rings here.
import { clock, now } from "./clock.js";
import { at, kept, make, show } from "./make.js";
import { ring } from "./sound.js";
import { stopWords } from "./timers.js";

const EVERY = 4_000; // a bell that nobody has answered rings again [ms]
const HEEDED = "panside-heeded";
const RUNS = 3; // of one batch in the strip; all are on its sheet
const BELLS = 2; // side by side; the next comes when one is answered
const LATE = 3_600_000; // what was due longer ago than this is shown, and rings no more [ms]

export class Strip {
  constructor(told) {
    this.told = told; // told.turn(batch), told.say(batch, words), told.stays: a bell leads nowhere
    this.batches = [];
    this.here = "";
    this.heeded = new Set(kept(HEEDED, sessionStorage) ?? []);
    this.rangAt = 0;
    setInterval(() => this.tick(), 500);
  }

  take(batches, here) {
    this.batches = batches;
    this.here = here;
    this.#draw();
    this.tick();
  }

  #draw() {
    const key = JSON.stringify([this.here, this.batches.map(({ id, name, state, place, running }) => [id, name, state, place, running])]);
    if (at("strip").dataset.key === key) return;
    at("strip").dataset.key = key;
    at("strip").replaceChildren(...this.batches.map((batch) => this.#batch(batch)));
  }

  #batch(batch) {
    const open = () => this.told.turn(batch.id);
    const here = batch.id === this.here;
    const more = batch.running.length - RUNS;
    const runs = batch.running.slice(0, RUNS).map((each) => make("span", { class: "run", "data-ends": each.ends, "data-name": each.name }, ""));
    return make("li", { "data-state": batch.state },
      make("button", { type: "button", onclick: open, "aria-current": here ? "true" : false },
        make("span", { class: "who" }, batch.name),
        make("span", { class: "where" }, batch.place),
        ...runs,
        more > 0 ? make("span", { class: "where" }, `${more} more`) : null));
  }

  tick() {
    for (const run of /** @type {NodeListOf<HTMLElement>} */ (at("strip").querySelectorAll(".run"))) {
      const left = Date.parse(run.dataset.ends ?? "") - now();
      run.textContent = `${clock(left)} ${run.dataset.name}`;
      run.toggleAttribute("data-over", left <= 0);
    }
    const due = this.#due();
    this.#show(due);
    if (due.length && Date.now() - this.rangAt >= EVERY) {
      this.rangAt = Date.now();
      ring();
    }
  }

  // What is over and has not been answered, by a tap here or by a word anywhere.
  #due() {
    const all = this.batches.flatMap((batch) => batch.running.map((each) => ({ ...each, batch, key: `${batch.id} ${each.kind} ${each.name} ${each.ends}` })));
    return all.filter((each) => {
      const left = Date.parse(each.ends) - now();
      return left <= 0 && left > -LATE && !this.heeded.has(each.key);
    });
  }

  #show(due) {
    const place = at("rings");
    const home = document.querySelector("dialog[open]") ?? at("bells");
    if (place.parentElement !== home) home.prepend(place);
    show("rings", due.length > 0);
    const key = due.map((each) => each.key).join("|");
    if (place.dataset.key === key) return;
    place.dataset.key = key;
    const more = due.length - BELLS;
    const hint = more > 0 ? `Tap to stop the bell; ${more} more` : "Tap to stop the bell";
    place.replaceChildren(...due.slice(0, BELLS).map((each) =>
      make("button", { type: "button", onclick: () => this.#heed(each) },
        make("strong", {}, words(each)), make("span", {}, hint))));
  }

  #heed(each) {
    this.heeded.add(each.key);
    sessionStorage.setItem(HEEDED, JSON.stringify([...this.heeded].slice(-50)));
    if (each.kind === "timer") this.told.say(each.batch.id, stopWords(each.name));
    if (!this.told.stays && each.batch.id !== this.here) this.told.turn(each.batch.id);
    this.tick();
  }
}

function words({ kind, name, batch }) {
  if (kind === "thermometer") return `${batch.name}: read the thermometer`;
  if (kind === "rest") return `${batch.name}: ${name.toLowerCase()} is over`;
  return `${batch.name}: ${name} is up`;
}
