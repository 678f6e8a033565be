// Draws the thermometer's course. All figures come from the kitchen's machine.
import { at, draw } from "./make.js";

const LEFT = 46, RIGHT = 14, TOP = 22, FOOT = 34, BARS = 82;
const STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 1440, 2880];

function frame(curve, now, wide, tall) {
  const degrees = curve.points.map((point) => point.degrees);
  for (const line of [curve.target, curve.ceiling, curve.below]) if (line != null) degrees.push(line);
  const low = 10 * Math.floor((Math.min(...degrees) - 4) / 10);
  const high = 10 * Math.ceil((Math.max(...degrees) + 4) / 10);
  const seconds = curve.points.map((point) => point.seconds);
  const last = Math.max(...seconds, curve.live ? now : 0, 60);
  const step = STEPS.find((minutes) => last / 60 / minutes <= wide / 90) ?? 10080;
  const long = Math.max(step, Math.ceil(last / 60 / step) * step) * 60;
  const x = (second) => LEFT + ((wide - LEFT - RIGHT) * second) / long;
  const y = (degree) => tall - FOOT - ((tall - TOP - FOOT) * (degree - low)) / (high - low);
  return { low, high, long, step, x, y, unit: curve.unit ?? "°C" };
}

function grid(svg, f, wide, tall) {
  const apart = (f.high - f.low) / 10 > tall / 40 ? 20 : 10;
  for (let degree = f.low; degree <= f.high; degree += apart) {
    svg.append(draw("line", { class: "grid", x1: LEFT, x2: wide - RIGHT, y1: f.y(degree), y2: f.y(degree) }));
    svg.append(draw("text", { class: "soft", x: LEFT - 8, y: f.y(degree) + 5, "text-anchor": "end" }, degree));
  }
  const base = f.y(f.low);
  svg.append(draw("line", { class: "axis", x1: LEFT, x2: wide - RIGHT, y1: base, y2: base }));
  for (let minute = 0; minute <= f.long / 60; minute += f.step) {
    svg.append(draw("text", { class: "soft", x: f.x(minute * 60), y: base + 19, "text-anchor": "middle" }, String(minute)));
  }
  svg.append(draw("text", { class: "soft", x: LEFT - 8, y: 13, "text-anchor": "end" }, f.unit));
  svg.append(draw("text", { class: "soft", x: wide - RIGHT, y: base + 33, "text-anchor": "end" }, "minutes"));
}

function bound(svg, f, wide, degree, name, kind, below) {
  if (degree == null) return;
  const y = f.y(degree);
  svg.append(draw("line", { class: kind, x1: LEFT, x2: wide - RIGHT, y1: y, y2: y }));
  svg.append(draw("text", { class: "named", x: LEFT + 8, y: below ? y + 18 : y - 6 }, `${name} ${degree} ${f.unit}`));
}

function course(svg, curve, f) {
  curve.points.forEach((point, n) => {
    const before = curve.points[n - 1];
    if (before && point.seconds >= before.seconds) {
      const ends = { x1: f.x(before.seconds), y1: f.y(before.degrees), x2: f.x(point.seconds), y2: f.y(point.degrees) };
      svg.append(draw("line", { class: point.blind ? "course blind" : "course", ...ends }));
    }
  });
  for (const point of curve.points) {
    svg.append(draw("circle", { class: "dot", cx: f.x(point.seconds), cy: f.y(point.degrees), r: 6 }));
  }
}

// Time and lethality of the hold as two plain bars; a full one may be more than full, and says so.
function bars(svg, hold, wide, tall) {
  const rows = [
    ["time", hold.counted_s / hold.needed_s, `${Math.round(hold.counted_s)} of ${Math.round(hold.needed_s)} s`],
    ["lethality", hold.share, `${hold.share.toFixed(1)} × the margin`],
  ];
  rows.forEach(([name, share, words], n) => {
    const y = tall + 24 + n * 32;
    svg.append(draw("text", { x: 0, y }, name));
    svg.append(draw("text", { x: wide, y, "text-anchor": "end" }, words));
    svg.append(draw("rect", { class: "bar", x: 0, y: y + 5, width: wide, height: 8 }));
    svg.append(draw("rect", { class: "done", x: 0, y: y + 5, width: wide * Math.min(1, share), height: 8 }));
  });
}

export function drawCurve(curve, hold, now) {
  const place = at("curve");
  const wide = Math.max(240, place.clientWidth);
  const tall = Math.round(Math.min(340, Math.max(220, wide * 0.55)));
  const whole = tall + (hold ? BARS : 0);
  const svg = draw("svg", { viewBox: `0 0 ${wide} ${whole}`, role: "img", "aria-label": curve.words });
  const f = frame(curve, now, wide, tall);
  if (curve.counted) {
    const [from, to] = curve.counted.map(f.x);
    svg.append(draw("rect", { class: "counted", x: from, width: Math.max(3, to - from), y: TOP, height: f.y(f.low) - TOP }));
  }
  grid(svg, f, wide, tall);
  bound(svg, f, wide, curve.ceiling, "no hotter than", "bound", false);
  bound(svg, f, wide, curve.target, "target", "target", true);
  bound(svg, f, wide, curve.below, "cool to", "bound", true);
  course(svg, curve, f);
  if (hold) bars(svg, hold, wide, tall);
  place.replaceChildren(svg);
}
