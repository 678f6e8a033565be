// Puts what is one tap away on its sheet. Nothing is worked out here.
import { at, bound, hour, make, show, tell } from "./make.js";
import { drawTimers } from "./timers.js";

export function drawMore(view, say) {
  tell("caution", view.stage?.caution ?? "");
  show("caution", Boolean(view.stage?.caution));
  tell("why-words", view.stage?.why ?? "");
  show("why", Boolean(view.stage));
  tell("hold-words", view.hold?.words ?? "");
  drawTimers(view.running, say);
  drawAmounts(view.amounts);
  drawTalk(view, say);
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
