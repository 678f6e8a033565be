// A page of choices, each as large as a wet knuckle.
import { at, make, tell } from "./make.js";

export function openList(name, taps, say) {
  tell("list-name", name);
  at("list-choices").replaceChildren(
    ...taps.map((tap) =>
      make("button", { type: "button", onclick: () => {
        at("list").close();
        say(tap.says);
      } }, tap.words[0].toUpperCase() + tap.words.slice(1))));
  at("list").showModal();
}
