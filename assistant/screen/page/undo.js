// Undo stands beside the control for ten seconds after every change.
import { at, show } from "./make.js";

const SECONDS = 10;
let timer = 0;

export function mindUndo(say) {
  at("undo").addEventListener("click", () => {
    hideUndo();
    say("scratch that");
  });
}

export function offerUndo() {
  show("undo", true);
  clearTimeout(timer);
  timer = setTimeout(hideUndo, SECONDS * 1000);
}

export function hideUndo() {
  clearTimeout(timer);
  show("undo", false);
}
