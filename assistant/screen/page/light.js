// Bright or dark room: the device's own wish, until somebody taps.
import { at } from "./make.js";

const dark = matchMedia("(prefers-color-scheme: dark)");

function isDark() {
  const chosen = localStorage.getItem("panside-light");
  return chosen ? chosen === "dark" : dark.matches;
}

function apply() {
  const chosen = localStorage.getItem("panside-light");
  if (chosen) document.documentElement.dataset.light = chosen;
  at("light").textContent = isDark() ? "Bright" : "Dark";
  at("light").setAttribute("aria-label", isDark() ? "Bright room" : "Dark room");
}

export function mindLight() {
  apply();
  dark.addEventListener("change", apply);
  at("light").addEventListener("click", () => {
    localStorage.setItem("panside-light", isDark() ? "bright" : "dark");
    apply();
  });
}
