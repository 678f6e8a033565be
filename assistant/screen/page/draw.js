// Puts a view on the page. Nothing is worked out here.
import { at, bound, hour, make, show, tell } from "./make.js";

const LONG = 5; // a number of more signs than this is set smaller

export function drawView(view, say) {
  for (const id of ["now", "promise"]) show(id, true);
  show("bar", true);
  drawNow(view);
  drawChoices("choices", view.choices, say);
  drawAmounts(view.amounts);
  drawTalk(view, say);
}

function drawNow(view) {
  const stage = view.stage;
  const what = view.fruit ? `${view.title}, ${view.fruit}` : view.title;
  tell("where", stage ? `${what} · ${stage.number} of ${stage.of}` : what);
  tell("stage", stage ? stage.title : view.ended === "discarded" ? "Thrown away" : "Done");
  tell("ask", stage ? stage.say : view.closing.join(" "));
  tell("caution", stage?.caution ?? "");
  show("caution", Boolean(stage?.caution));
  tell("why-words", stage?.why ?? "");
  show("why", Boolean(stage));
  document.title = `${stage ? stage.title : "Done"} · Panside`;
  drawBig(view.big);
  drawStop(view.stop);
}

function drawBig(big) {
  show("big", big !== null);
  if (!big) return;
  for (const part of ["label", "value", "unit", "note"]) tell(`big-${part}`, big[part]);
  at("big").toggleAttribute("data-long", big.value.length + big.unit.length > LONG + 2);
}

function drawStop(words) {
  const place = at("stop");
  show("stop", words !== "");
  if (place.dataset.words === words) return;
  place.dataset.words = words;
  place.replaceChildren(...(words ? [make("strong", {}, "Stop"), make("span", {}, words)] : []));
}

export function drawChoices(id, words, say) {
  const place = at(id);
  const wanted = words.join("|");
  if (place.dataset.words === wanted) return;
  place.dataset.words = wanted;
  const button = (word) =>
    make("button", { type: "button", class: "first", onclick: () => say(word) }, word[0].toUpperCase() + word.slice(1));
  place.replaceChildren(...words.map(button));
}

function drawAmounts(rows) {
  show("amounts", rows.length > 0);
  at("amounts-rows").replaceChildren(
    ...rows.map((row) =>
      make("tr", { "data-now": row.standing === "now" },
        make("th", { scope: "row" }, row.name),
        make("td", {}, bound(row.planned) || "not known yet"),
        make("td", {}, bound(row.put_in) || (row.standing === "now" ? "now" : "later"))),
    ),
  );
}

function drawTalk(view, say) {
  show("talk", true);
  drawMend(view, say);
  at("said").replaceChildren(...[...view.said].reverse().map(line));
  show("can", view.examples.length > 0);
  at("examples").replaceChildren(...view.examples.map((words) => make("li", {}, words)));
}

function line(said) {
  const told = said.answer.filter((words) => words !== said.understood);
  const answer = told.map((words) => make("span", {}, words));
  if (said.verdict === "reminder") return make("li", {}, make("span", { class: "soft" }, hour(said.at)), ...answer);
  return make("li", {},
    make("span", { class: "soft" }, hour(said.at)),
    make("span", { class: "heard" }, `“${said.heard}”`),
    make("span", { class: "understood" }, said.understood),
    ...answer);
}

// The last reading can be put right, the last change taken back. Left alone while somebody types.
function drawMend(view, say) {
  const place = at("mend");
  const key = JSON.stringify([view.slip, view.can_undo]);
  if (place.dataset.key === key) return;
  place.dataset.key = key;
  const undo = make("button", { type: "button", onclick: () => say("scratch that") }, "Take the last one back");
  place.replaceChildren(
    ...(view.slip ? [mendForm(view.slip, say)] : []),
    make("div", { class: "row" }, view.can_undo ? undo : null),
  );
}

function mendForm(slip, say) {
  const field = make("input", { id: "right", inputmode: "decimal", autocomplete: "off", maxlength: 12, value: slip.value, required: true });
  const unit = slip.unit_words ? ` in ${slip.unit_words}` : "";
  const sent = (event) => {
    event.preventDefault();
    say(`no, ${field.value.trim()}`);
  };
  return make("details", {},
    make("summary", {}, `Not ${slip.words}? Put it right`),
    make("form", { onsubmit: sent },
      make("label", { for: "right" }, `The right number${unit}`),
      field,
      make("button", { type: "submit" }, "Put it right")));
}
