// Timers, rests and the next look at the thermometer, counted by the kitchen's clock.
import { at, make, show } from "./make.js";
import { ring } from "./sound.js";

const LATE = 300_000; // a timer that ran out longer ago than this does not ring any more [ms]

export class Running {
  constructor() {
    this.items = [];
    this.rung = new Set();
    this.ahead = 0;
    setInterval(() => this.tick(), 500);
  }

  take(items, serverNow) {
    this.ahead = Date.parse(serverNow) - Date.now();
    this.items = items.map((item) => ({
      ...item,
      key: `${item.kind} ${item.name} ${item.ends}`,
      from: Date.parse(item.began),
      until: Date.parse(item.ends),
    }));
    for (const said of at("rings").children) {
      if (!this.items.some((item) => item.key === said.dataset.key)) said.remove();
    }
    at("running-list").replaceChildren(...this.items.map(row));
    show("running", items.length > 0);
    this.tick();
  }

  tick() {
    const now = Date.now() + this.ahead;
    this.items.forEach((item, place) => {
      const left = item.until - now;
      const line = at("running-list").children[place];
      line.querySelector(".left").textContent = clock(left);
      const whole = Math.max(1, item.until - item.from);
      const share = Math.max(0, Math.min(1, left / whole));
      line.querySelector(".track span").style.transform = `scaleX(${share.toFixed(3)})`;
      line.toggleAttribute("data-over", left <= 0);
      if (left <= 0 && left > -LATE && !this.rung.has(item.key)) this.#rings(item);
    });
  }

  #rings(item) {
    this.rung.add(item.key);
    const words = item.kind === "thermometer" ? "Read the thermometer." : `Time is up: ${item.name}.`;
    at("rings").append(make("p", { "data-key": item.key }, words));
    ring();
  }
}

function row(item) {
  const track = make("span", { class: "track", "aria-hidden": "true" }, make("span"));
  return make("li", {}, make("span", {}, item.name), make("span", { class: "left", role: "timer" }), track);
}

// 65000 -> 1:05; time that is over counts on, with a plus before it.
function clock(left) {
  const seconds = Math.abs(left > 0 ? Math.ceil(left / 1000) : Math.floor(left / 1000));
  const [hours, minutes, rest] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (number) => String(number).padStart(2, "0");
  const told = hours ? `${hours}:${two(minutes)}:${two(rest)}` : `${minutes}:${two(rest)}`;
  return left > 0 ? told : `+${told}`;
}
