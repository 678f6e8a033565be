// The units somebody has chosen, once for this device; the machine words everything in them.
import { at, tell } from "./make.js";

const KEPT = "panside-units";
const HEAT = [["degC", "Degrees: °C"], ["degF", "Degrees: °F"]];
const MEASURE = [["metric", "Measures: g, l"], ["us", "Measures: lb, cups"]];

export function chosenUnits() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? "{}");
    return { heat: kept.heat === "degF" ? "degF" : "degC", measure: kept.measure === "us" ? "us" : "metric" };
  } catch {
    return { heat: "degC", measure: "metric" };
  }
}

export function mindUnits(changed) {
  const choose = (what) => {
    localStorage.setItem(KEPT, JSON.stringify({ ...chosenUnits(), ...what }));
    for (const key of Object.keys(localStorage)) if (key.startsWith("panside-unit ")) localStorage.removeItem(key);
    label();
    changed();
  };
  at("heat").addEventListener("click", () => choose({ heat: chosenUnits().heat === "degF" ? "degC" : "degF" }));
  at("measure").addEventListener("click", () => choose({ measure: chosenUnits().measure === "us" ? "metric" : "us" }));
  label();
}

function label() {
  const chosen = chosenUnits();
  tell("heat", HEAT.find(([name]) => name === chosen.heat)?.[1] ?? "");
  tell("measure", MEASURE.find(([name]) => name === chosen.measure)?.[1] ?? "");
}
