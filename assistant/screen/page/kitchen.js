// The kitchen page: a panel of states over every batch of the kitchen, live.
import { beginBatch } from "./begin.js";
import { armWithATap, keepKitchen, mindBells } from "./bells.js";
import { aheadBy, now, setAhead, setClock } from "./clock.js";
import { drawControl } from "./control.js";
import { drawCurve } from "./curve.js";
import { drawMore } from "./draw.js";
import { Ears } from "./ears.js";
import { Line } from "./line.js";
import { at, kept, make, show, tell, when } from "./make.js";
import { Outbox } from "./outbox.js";
import { minePad } from "./pad.js";
import { pair, scannedCode } from "./pair.js";
import { Panel } from "./panel.js";
import { ask, settle } from "./shell.js";
import { hush, play, wake } from "./sound.js";
import { Strip } from "./strip.js";
import { mindTimers } from "./timers.js";
import { chosenUnits, mindUnits } from "./units.js";
import { hideUndo, mindUndo, offerUndo } from "./undo.js";

const LAST_BATCH = "panside-batch";
const VOICE = "panside-voice";
let view = null;
let batch = null;
let lostAt = null;
let line, outbox, panel, strip, ears;

settle();
start();

async function start() {
  for (const id of ["list", "type", "more", "trouble"]) at(`${id}-close`).addEventListener("click", () => at(id).close());
  minePad();
  const code = scannedCode();
  let me = null;
  try {
    me = await ask("/api/me");
    if (!me.known) {
      await pair(code);
      me = await ask("/api/me");
    }
  } catch {
    tell("line", "No connection to the kitchen’s machine.");
  }
  const asked = new URLSearchParams(location.search).get("batch");
  batch = asked ?? me?.batch ?? localStorage.getItem(LAST_BATCH);
  if (me === null && !(batch && keptView())) return away();
  if (!batch) return none();
  open(me);
}

// A panel that tells only words.
function bare(stands, word, instruction) {
  panel ??= new Panel();
  panel.take({ state: stands, word, place: "", number: "", unit: "", sense: "", old_at: null, count: null, instruction });
  at("mic").hidden = true;
}

// Loaded while the machine is away, with nothing kept: it opens as soon as there is an answer.
function away() {
  tell("line", "");
  bare("lost", "No connection", "The kitchen’s machine does not answer. Look whether it runs, and whether this device is in its network.");
  const again = () => ask("/api/me").then(() => location.reload()).catch(() => {});
  drawControl({ kind: "done", words: "Try again", taps: [{ words: "Try again", says: "" }] }, "away", again);
  setInterval(again, 3_000);
}

function unknown() {
  bare("none", "Not found", "There is no batch of that name here.");
  const taps = [{ words: "All batches", says: "/batches" }, { words: "The kitchen", says: "/" }];
  drawControl({ kind: "choose", words: "", taps }, "unknown", (address) => location.assign(address));
}

// No batch is under way: the recipes are the one control.
async function none() {
  bare("none", "Ready", "No batch is under way. Choose a recipe to begin.");
  const { recipes } = await ask("/api/batches").catch(() => ({ recipes: [] }));
  const taps = recipes.map(({ name, title }) => ({ words: title, says: name }));
  drawControl({ kind: "list", words: "Choose a recipe", taps }, "none", begin);
  at("menu").addEventListener("click", () => location.assign("/batches"));
  mindBells();
}

async function begin(recipe) {
  try {
    await beginBatch({ recipe });
  } catch (error) {
    panel.answer(error.message);
  }
}

function open(me) {
  localStorage.setItem(LAST_BATCH, batch);
  panel = new Panel();
  strip = new Strip({ turn: turnTo, say: sayTo });
  outbox = new Outbox(batch, drawWaiting);
  ears = new Ears({ send: (record) => line.send(record), sound: (pcm) => line.sound(pcm), began: () => keptVoice() ?? setVoice(true) });
  const old = keptView();
  if (old) {
    take(old.view, old.ahead);
    if (me === null) lost(Date.parse(view.now));
  }
  line = new Line(batch, outbox, { state, message });
  mindUndo(say);
  mindTimers();
  mindUnits(tellUnits);
  at("type-form").addEventListener("submit", typed);
  at("menu").addEventListener("click", openMore);
  at("to-type").addEventListener("click", () => openType(""));
  at("again").addEventListener("click", () => inMore(() => say("say that again")));
  at("back-one").addEventListener("click", () => inMore(() => say("scratch that")));
  at("voice").addEventListener("click", () => setVoice(!voiceOn()));
  addEventListener("keydown", typesAway);
  new ResizeObserver(redraw).observe(at("curve"));
  setInterval(redraw, 5_000);
  showVoice();
  drawWaiting();
  stayAwake();
  armWithATap();
}

function keptView() {
  const old = kept(`panside-view ${batch}`);
  return old?.view?.panel ? old : null;
}

function say(text) {
  line.say(text, view ? (view.stage?.id ?? "") : null);
  if (!line.up) panel.answer("Kept. It is sent when the connection is back.");
}

// Another batch's bell is answered there, whichever batch is in hand here.
function sayTo(other, text) {
  if (other === batch) return say(text);
  const name = strip.batches.find((each) => each.id === other)?.name;
  return say(name ? `for the ${name}, ${text}` : text);
}

function turnTo(other) {
  if (other !== batch) location.assign(`/?batch=${encodeURIComponent(other)}`);
}

// What was said here was for another batch: it is shown from now on, and the microphone stays on.
function follow(other) {
  batch = line.batch = outbox.batch = other;
  localStorage.setItem(LAST_BATCH, other);
  history.replaceState(null, "", `/?batch=${encodeURIComponent(other)}`);
  drawWaiting();
}

const tellUnits = () => line.send({ kind: "units", chosen: chosenUnits() });

function inMore(act) {
  at("more").close();
  act();
}

function typed(event) {
  event.preventDefault();
  const text = at("words").value.trim();
  at("words").value = "";
  at("type").close();
  if (text) say(text);
}

function openType(begun) {
  at("more").close();
  at("words").value = begun;
  at("type").showModal();
  at("words").focus();
}

// A keyboard may simply be typed on.
function typesAway(event) {
  const plain = event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.metaKey && !event.altKey;
  if (!plain || document.querySelector("dialog[open]")) return;
  event.preventDefault();
  openType(event.key);
}

function openMore() {
  at("more").showModal();
  redraw();
}

// ahead: of the kitchen's clock, for a view that was kept; left out for a fresh one [ms]
function take(fresh, ahead = null) {
  const before = view;
  view = fresh;
  if (ahead === null) setClock(view.now);
  else setAhead(ahead);
  panel.take(view.panel);
  drawControl(view.panel.control, `${view.batch} ${view.stage?.id ?? ""} ${view.panel.state}`, say);
  panel.fit();
  drawMore(view, say);
  document.title = `${view.panel.word}: ${view.panel.place} · Panside`;
  if (before && before.batch === view.batch && view.revision > before.revision && view.can_undo) offerUndo();
  if (!view.can_undo) hideUndo();
  strip.take(fresh.kitchen?.length ? fresh.kitchen : [alone(view)], batch);
  redraw();
}

function alone(seen) {
  const name = seen.fruit || seen.title;
  return { id: seen.batch, name, state: seen.panel.state, place: seen.panel.place, running: seen.running };
}

function redraw() {
  const curve = view?.curve ?? null;
  show("course", curve !== null);
  if (!curve || !at("more").open) return;
  tell("curve-words", curve.words);
  drawCurve(curve, view.hold, (now() - Date.parse(curve.first_at)) / 1000);
}

function message(got) {
  if (got.kind === "view") {
    if (got.view.batch !== batch) follow(got.view.batch);
    if (view && view.batch === got.view.batch && got.view.revision < view.revision) return;
    take(got.view);
    keepKitchen(got.view.kitchen);
    localStorage.setItem(`panside-view ${got.view.batch}`, JSON.stringify({ view, ahead: aheadBy() }));
  } else if (got.kind === "turn") turn(got);
  else if (got.kind === "mic") ears.state(got);
  else if (got.kind === "partial") ears.partial(got.text);
  else if (got.kind === "trouble") panel.answer(got.text);
}

function turn(got) {
  ears.answered();
  if (got.verdict === "twice") return ears.partial("Two microphones heard that; it counted once.");
  if (!got.show.length) return ears.partial(`Heard “${got.heard}”, and left it alone.`);
  panel.answer(got.show[0]);
  if (voiceOn()) play(got.sound, (on) => (line.send({ kind: "sounding", on }), ears.sounding(on))).catch(() => {});
}

function state(up, code) {
  if (up) {
    lost(null);
    tell("line", "");
    if (localStorage.getItem("panside-units")) tellUnits();
    return ears.back();
  }
  if (code === 4404) {
    localStorage.removeItem(LAST_BATCH);
    return unknown();
  }
  if (code === 1006) unpairedPerhaps();
  lost(lostAt ?? Date.now());
  tell("line", `No connection. What stands here is as it was ${when(lostAt)}; what you say or type is kept and sent later.${reload()}`);
}

// Only an encrypted page, or the machine's own, is kept by a browser for a reload.
const reload = () => (navigator.serviceWorker?.controller ? "" : " Do not reload: this browser opens the page only with a connection.");

function lost(since) {
  lostAt = since;
  panel.lost(since);
}

async function unpairedPerhaps() {
  const me = await ask("/api/me").catch(() => null);
  if (me && !me.known) location.reload();
}

function drawWaiting() {
  const items = outbox.mine().filter((item) => item.why || !line?.up);
  at("waiting").replaceChildren(
    ...items.map((item) =>
      make("li", {},
        make("span", {}, item.why ? `Not written: “${item.text}”. ${item.why}` : `Waiting: “${item.text}”`),
        item.why ? make("button", { type: "button", onclick: () => line.resend(item.id) }, "Send again") : null,
        make("button", { type: "button", onclick: () => outbox.drop(item.id) }, "Drop it")),
    ),
  );
  const failed = items.some((item) => item.why);
  if (failed && !at("trouble").open) at("trouble").showModal();
  if (!items.length && at("trouble").open) at("trouble").close();
}

const keptVoice = () => localStorage.getItem(VOICE);
const voiceOn = () => keptVoice() === "on";

function setVoice(on) {
  localStorage.setItem(VOICE, on ? "on" : "off");
  if (on) wake();
  else hush();
  showVoice();
}

function showVoice() {
  at("voice").setAttribute("aria-pressed", String(voiceOn()));
  tell("voice", voiceOn() ? "Aloud: on" : "Aloud: off");
}

// The screen stays on while the page is looked at, where the browser can do that.
async function stayAwake() {
  if (!document.hidden) await navigator.wakeLock?.request("screen").catch(() => {});
}
document.addEventListener("visibilitychange", stayAwake);
