// A shape for every state, so that colour is never all that tells them apart.
import { draw } from "./make.js";

const LINE = { fill: "none", stroke: "currentColor", "stroke-width": 6, "stroke-linejoin": "round", "stroke-linecap": "round" };
const SHAPES = {
  go: [["path", { d: "M12 10 L54 32 L12 54 Z" }]],
  wait: [["circle", { cx: 32, cy: 32, r: 25 }], ["path", { d: "M32 16 V32 L43 40" }]],
  measure: [["path", { d: "M8 46 A26 26 0 0 1 56 46" }], ["path", { d: "M32 44 L44 24" }]],
  question: [["path", { d: "M8 10 H56 V44 H30 L18 56 V44 H8 Z" }], ["path", { d: "M26 22 a7 7 0 1 1 8 8 v3 M32 38 v1" }]],
  hot: [["path", { d: "M32 7 L59 55 H5 Z" }], ["path", { d: "M32 26 V40 M32 47 v1" }]],
  acid: [["path", { d: "M32 6 C44 22 52 30 52 40 A20 18 0 0 1 12 40 C12 30 20 22 32 6 Z" }], ["path", { d: "M32 28 V42 M32 49 v1" }]],
  stopped: [["path", { d: "M21 6 H43 L58 21 V43 L43 58 H21 L6 43 V21 Z" }], ["path", { d: "M20 32 H44" }]],
  finished: [["rect", { x: 7, y: 7, width: 50, height: 50, rx: 6 }], ["path", { d: "M19 33 L28 43 L46 21" }]],
  none: [["rect", { x: 8, y: 14, width: 48, height: 38, rx: 4 }]],
  lost: [["path", { d: "M8 26 A34 34 0 0 1 56 26 M18 38 A20 20 0 0 1 46 38 M32 50 v1" }], ["path", { d: "M10 56 L54 8" }]],
};

export const STATES = Object.keys(SHAPES);

export function drawShape(place, state) {
  if (place.dataset.shape === state) return;
  place.dataset.shape = state;
  place.replaceChildren(...SHAPES[state].map(([name, given]) => draw(name, { ...LINE, ...given })));
}
