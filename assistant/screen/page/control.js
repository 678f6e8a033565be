// The one control of a state. What has just changed is deaf for a moment, so that a double tap
// never skips a step.
import { at, make, show } from "./make.js";
import { openList } from "./list.js";
import { openPad } from "./pad.js";

const DEAF = 600; // [ms]
let since = 0;

export const awake = () => performance.now() - since > DEAF;

export function drawControl(control, key, say) {
  const place = at("control");
  const wanted = JSON.stringify([control, key]);
  if (place.dataset.key === wanted) return;
  place.dataset.key = wanted;
  since = performance.now();
  const tapped = (act) => () => awake() && act();
  place.replaceChildren(...buttons(control, say).map(([words, act], nth) =>
    make("button", { type: "button", class: nth ? "second" : "first", onclick: tapped(act) }, make("span", {}, words))));
  place.dataset.kind = control.kind;
  show("control", place.children.length > 0);
}

function buttons(control, say) {
  if (control.kind === "pad") return [[control.words, () => openPad(control, say)]];
  if (control.kind === "list") return [[control.words, () => openList(control.words, control.taps, say)]];
  return control.taps.map((tap) => [control.kind === "done" ? control.words : tap.words, () => say(tap.says)]);
}
