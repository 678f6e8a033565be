// A page of choices, each as large as a wet knuckle.
import { beginBatch } from "./begin.js";
import { at, make, tell } from "./make.js";

export function openList(name, taps, say) {
  tell("list-name", name);
  at("list-choices").replaceChildren(
    ...taps.map((tap) =>
      make("button", { type: "button", onclick: () => {
        at("list").close();
        if (tap.goes) location.assign(tap.goes);
        else if (tap.again) beginBatch({ again: tap.again }).catch((error) => tell("line", error.message));
        else say(tap.says);
      } }, tap.words[0].toUpperCase() + tap.words.slice(1))));
  at("list").showModal();
}
