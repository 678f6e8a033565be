// The kitchen's bells on a page that shows no batch: what runs, and what is due until it is answered.
import { aheadBy, setAhead, setClock } from "./clock.js";
import { Line } from "./line.js";
import { kept } from "./make.js";
import { freshId } from "./outbox.js";
import { armed, wake } from "./sound.js";
import { Strip } from "./strip.js";

const KEPT = "panside-kitchen";
const NOTHING = { mine: () => [], drop() {}, fail() {} };

// What is known of the kitchen, for a page that opens while there is no connection.
export function keepKitchen(kitchen) {
  localStorage.setItem(KEPT, JSON.stringify({ kitchen, ahead: aheadBy() }));
}

/** @param {() => void} back called when the connection is there again */
export function mindBells(back = () => {}) {
  const strip = new Strip({ turn, say, stays: true });
  const old = kept(KEPT);
  if (old?.kitchen) {
    setAhead(old.ahead);
    strip.take(old.kitchen, "");
  }
  let lost = false;
  const line = new Line("", NOTHING, { state, message });
  armWithATap();

  function message(got) {
    if (got.kind !== "kitchen") return;
    setClock(got.now);
    keepKitchen(got.kitchen);
    strip.take(got.kitchen, "");
  }

  function state(up) {
    if (up && lost) back();
    lost = !up;
  }

  function say(batch, text) {
    line.send({ kind: "say", id: freshId(), batch, text });
  }
}

function turn(batch) {
  location.assign(`/?batch=${encodeURIComponent(batch)}`);
}

// A tap anywhere lets a page ring and speak; until then it says that it can't.
export function armWithATap() {
  addEventListener("pointerdown", () => wake());
  wake();
  setInterval(() => document.body.toggleAttribute("data-unarmed", !armed()), 1_000);
}
