// The kitchen page: one batch, live.
import { drawCurve } from "./curve.js";
import { drawChoices, drawView } from "./draw.js";
import { Line } from "./line.js";
import { at, make, show, tell, when } from "./make.js";
import { Mic } from "./mic.js";
import { Outbox } from "./outbox.js";
import { pair, scannedCode } from "./pair.js";
import { Running } from "./running.js";
import { ask, settle } from "./shell.js";
import { hush, play, wake } from "./sound.js";

const LAST_BATCH = "panside-batch";
const VOICE = "panside-voice";
let view = null;
let lostAt = null;
let line, outbox, running, mic;

settle();
start();

async function start() {
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
  const batch = asked ?? me?.batch ?? localStorage.getItem(LAST_BATCH);
  if (!batch) return show("none", true);
  open(batch, me);
}

function open(batch, me) {
  localStorage.setItem(LAST_BATCH, batch);
  running = new Running();
  outbox = new Outbox(batch, drawWaiting);
  mic = new Mic(sound);
  const kept = localStorage.getItem(`panside-view ${batch}`);
  if (kept) {
    take(JSON.parse(kept));
    if (me === null) lostAt = Date.parse(view.now);
  }
  line = new Line(batch, outbox, { state, message });
  at("type").addEventListener("submit", typed);
  at("mic").addEventListener("click", () => (mic.on ? stopMic() : startMic()));
  at("voice").addEventListener("click", () => setVoice(!voiceOn()));
  at("again").addEventListener("click", () => say("say that again"));
  new ResizeObserver(redraw).observe(at("curve"));
  setInterval(redraw, 5_000);
  showVoice();
  drawWaiting();
  stayAwake();
}

function say(text) {
  line.say(text, view ? (view.stage?.id ?? "") : null);
  if (!line.up) tell("bar-state", "Kept. It is sent when the connection is back.");
}

function typed(event) {
  event.preventDefault();
  const text = at("words").value.trim();
  if (!text) return;
  at("words").value = "";
  say(text);
}

function take(fresh) {
  view = fresh;
  drawView(view, say);
  running.take(view.running, view.now);
  tell("hold-words", view.hold?.words ?? "");
  openQuestion();
  redraw();
}

function redraw() {
  const curve = view?.curve ?? null;
  show("course", curve !== null);
  if (!curve) return;
  tell("curve-words", curve.words);
  drawCurve(curve, view.hold, (Date.now() + running.ahead - Date.parse(curve.first_at)) / 1000);
}

function message(got) {
  if (got.kind === "view") {
    if (view && view.batch === got.view.batch && got.view.revision < view.revision) return;
    localStorage.setItem(`panside-view ${got.view.batch}`, JSON.stringify(got.view));
    take(got.view);
  } else if (got.kind === "turn") turn(got);
  else if (got.kind === "mic") micState(got);
  else if (got.kind === "partial") tell("bar-state", `… ${got.text}`);
  else if (got.kind === "trouble") tell("bar-state", got.text);
}

function turn(got) {
  tell("bar-state", "");
  if (got.verdict === "twice") return tell("bar-state", "Two microphones heard that; it counted once.");
  if (!got.show.length) return tell("bar-state", `Heard “${got.heard}”, and left it alone.`);
  answer(got);
  if (voiceOn()) play(got.sound, (on) => line.send({ kind: "sounding", on })).catch(() => {});
}

function answer(got) {
  show("reply", true);
  tell("reply-heard", got.heard ? `“${got.heard}”` : "");
  at("reply-words").replaceChildren(...got.show.map((words) => make("p", {}, words)));
  at("reply").toggleAttribute("data-asks", got.verdict === "ask");
  drawChoices("reply-choices", got.yes_no ? ["yes", "no"] : [], say);
}

// A page that comes in later sees the question that is open.
function openQuestion() {
  const last = view.said.at(-1);
  if (last?.verdict === "ask" && at("reply").hidden) answer({ ...last, show: last.answer });
}

function state(up, code) {
  if (up) {
    lostAt = null;
    tell("line", "");
    tell("bar-state", "");
    if (mic.on) line.send({ kind: "mic", on: true });
    return;
  }
  lostAt ??= Date.now();
  if (code === 4404) {
    localStorage.removeItem(LAST_BATCH);
    tell("line", "There is no such batch here. Look among the batches.");
    return;
  }
  if (code === 1006 && !view) unpairedPerhaps();
  tell("line", `No connection. What stands here is as it was ${when(lostAt)}; what you type is kept and sent later.`);
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
}

async function startMic() {
  show("mic-why", false);
  try {
    await mic.start();
  } catch (error) {
    tell("mic-why", error.message);
    return show("mic-why", true);
  }
  if (localStorage.getItem(VOICE) === null) setVoice(true);
  at("mic").setAttribute("aria-pressed", "true");
  tell("mic", "Opening the ears …");
  show("level", true);
  line.send({ kind: "mic", on: true });
}

function stopMic() {
  mic.stop();
  line.send({ kind: "mic", on: false });
  showMic(false);
}

function micState(got) {
  if (!got.on) {
    mic.stop();
    tell("mic-why", got.why);
    show("mic-why", true);
  }
  showMic(got.on && mic.on);
}

function showMic(on) {
  at("mic").setAttribute("aria-pressed", String(on));
  tell("mic", on ? "Listening: tap to stop" : "Talk");
  show("level", on);
}

function sound(pcm, level) {
  line.sound(pcm);
  at("level").value = Math.min(1, level * 6);
}

function voiceOn() {
  return localStorage.getItem(VOICE) === "on";
}

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

// A tap anywhere lets the page sound again after a reload.
addEventListener("pointerdown", () => voiceOn() && wake());
