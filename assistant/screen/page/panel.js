// The panel: one state that fills the screen. What it holds was worked out by the machine.
import { ago, clock, now } from "./clock.js";
import { fit, wanted } from "./fit.js";
import { at, bound, show, tell } from "./make.js";
import { drawShape } from "./shape.js";

const OLD = 90_000; // a reading older than this looks old [ms]
const WORD_MS = 380; // to read a word of an answer, at the least [ms]
const SHARES = 4; // how the room may be parted between number and words: as panel.css has them

export class Panel {
  constructor() {
    this.panel = null;
    this.lostSince = null;
    this.answerUntil = 0;
    this.words = "";
    new ResizeObserver(() => this.fit()).observe(at("panel"));
    document.fonts?.ready.then(() => this.fit());
    setInterval(() => this.tick(), 500);
  }

  take(panel) {
    this.panel = panel;
    this.draw();
  }

  // An answer stands where the instruction is, long enough to be read.
  answer(words) {
    this.words = words;
    this.answerUntil = Date.now() + Math.max(4_000, Math.min(14_000, words.split(" ").length * WORD_MS));
    this.draw();
  }

  lost(since) {
    this.lostSince = since;
    this.draw();
  }

  draw() {
    const panel = this.panel;
    if (!panel) return;
    const state = this.lostSince === null ? panel.state : "lost";
    document.body.dataset.state = state;
    drawShape(at("shape"), state);
    tell("word", state === "lost" ? "No connection" : panel.word);
    tell("place", panel.place);
    tell("unit", panel.unit);
    tell("sense", panel.sense);
    this.tick();
    this.fit();
  }

  tick() {
    const panel = this.panel;
    if (!panel) return;
    this.#count(panel);
    const age = panel.old_at ? now() - Date.parse(panel.old_at) : 0;
    document.body.toggleAttribute("data-old", age > OLD || this.lostSince !== null);
    const told = ago(age);
    tell("sense", told && panel.number ? `${panel.sense} · ${told}` : panel.sense);
    const answering = Date.now() < this.answerUntil;
    const words = answering ? this.words : panel.instruction;
    at("panel").toggleAttribute("data-answer", answering);
    if (at("instruction").textContent !== bound(words)) {
      tell("instruction", words);
      this.fit();
    }
  }

  #count({ count, number }) {
    const big = Boolean(count?.big);
    show("count", count !== null && !big);
    if (!count) return tell("value", number);
    const left = Date.parse(count.ends) - now();
    const told = clock(left);
    at("panel").toggleAttribute("data-over", left <= 0);
    tell("value", big ? told : number);
    tell("left", told);
    tell("count-label", count.label);
    if (big) tell("sense", left > 0 ? count.label : "time is up");
  }

  // The words of a button, as large as it allows but no larger than those on Talk.
  #label(words) {
    const button = words.parentElement;
    const room = { clientWidth: button.clientWidth - 24, clientHeight: button.clientHeight - 12 };
    fit(words, room, { least: 10, most: parseFloat(getComputedStyle(at("mic")).fontSize) });
  }

  fit() {
    at("panel").toggleAttribute("data-bare", at("value").textContent === "");
    this.#share();
    for (const words of at("control").querySelectorAll("span")) this.#label(words);
  }

  // Words that come out too small take room from a number that can spare it: one that stays large
  // enough, or that was not held by its height.
  #share() {
    const least = wanted(innerWidth, innerHeight);
    const whole = this.#part(0);
    for (let share = 1, words = whole.words; share < SHARES && words < least.words; share += 1) {
      const parted = this.#part(share);
      if (parted.number < Math.min(least.number, whole.number)) return this.#part(share - 1);
      words = parted.words;
    }
    return null;
  }

  #part(share) {
    at("panel").dataset.share = String(share);
    return { number: this.#number(), words: fit(at("instruction"), at("say"), { least: 14, most: 220 }) };
  }

  #number() {
    if (at("panel").hasAttribute("data-bare")) return 0;
    const figure = at("figure");
    const beside = at("sense").offsetHeight + at("count").offsetHeight;
    const room = { clientWidth: figure.clientWidth, clientHeight: figure.clientHeight - beside };
    return fit(at("number"), room, { least: 16, most: 1000 });
  }
}
