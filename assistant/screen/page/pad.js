// The number pad: figures, a point, and the units that the stage takes.
import { at, make, tell } from "./make.js";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"];
const MOST = 7; // figures and a point
const CHOSEN = "panside-unit";
let control = null;
let unit = null;
let shown = "";
/** @type {(words: string) => void} */
let say = () => {};

// The text after a key. A second point and figures past the end are not taken.
/** @param {string} text @param {string} key */
export function pressed(text, key) {
  if (key === "⌫") return text.slice(0, -1);
  if (text.length >= MOST || (key === "." && text.includes("."))) return text;
  if (key === "." && text === "") return "0.";
  return text === "0" && key !== "." ? key : text + key;
}

// What is sent for a number in a unit; "" where there is no number yet.
/** @param {string} text @param {string} said */
export function words(text, said) {
  const number = text.replace(/\.$/, "");
  return number === "" || Number(number) <= 0 ? "" : said.replace("{n}", number);
}

export function minePad() {
  at("pad-keys").replaceChildren(
    ...KEYS.map((key) => make("button", { type: "button", "aria-label": key === "⌫" ? "Delete" : key, onclick: () => press(key) }, key)));
  at("pad-close").addEventListener("click", () => at("pad").close());
  at("pad-form").addEventListener("submit", take);
  at("pad").addEventListener("keydown", typed);
}

export function openPad(wanted, saying) {
  control = wanted;
  say = saying;
  shown = "";
  const kept = localStorage.getItem(`${CHOSEN} ${wanted.units[0].says}`);
  unit = wanted.units.find((each) => each.sign === kept) ?? wanted.units[0];
  tell("pad-name", wanted.note || wanted.words.replace(/^Type /, "").replace(/^./, (c) => c.toUpperCase()));
  draw();
  at("pad").showModal();
  at("pad-take").focus();
}

function press(key) {
  shown = pressed(shown, key);
  draw();
}

function typed(event) {
  if (/^[0-9]$/.test(event.key)) press(event.key);
  else if (event.key === "." || event.key === ",") press(".");
  else if (event.key === "Backspace") press("⌫");
  else return;
  event.preventDefault();
}

function draw() {
  at("pad-shown").replaceChildren(make("span", {}, shown || "–"), make("small", {}, unit.sign));
  at("pad-units").replaceChildren(
    ...(control.units.length < 2 ? [] : control.units.map((each) =>
      make("button", { type: "button", "aria-pressed": String(each === unit), onclick: () => choose(each) }, each.sign))));
  at("pad-take").disabled = words(shown, unit.says) === "";
}

function choose(each) {
  unit = each;
  localStorage.setItem(`${CHOSEN} ${control.units[0].says}`, each.sign);
  draw();
}

function take(event) {
  event.preventDefault();
  const said = words(shown, unit.says);
  if (!said) return;
  at("pad").close();
  say(said);
}
