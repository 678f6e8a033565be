// All batches, one batch's report, a new batch, and (on the kitchen's own screen) pairing.
import { beginBatch } from "./begin.js";
import { drawDevices } from "./devices.js";
import { mindBells } from "./bells.js";
import { drawCurve } from "./curve.js";
import { labels } from "./labels.js";
import { make } from "./make.js";
import { content, read, settle } from "./shell.js";

settle();
const chosen = new URLSearchParams(location.search).get("batch");
look();
mindBells(look);

function look() {
  if (chosen) read(`/api/batches/${encodeURIComponent(chosen)}`, drawReport);
  else read("/api/batches", drawList);
}

function drawList({ batches, recipes }) {
  content().replaceChildren(
    begin(recipes),
    make("section", {},
      make("h2", {}, batches.length ? "Made and under way" : "There are no batches yet"),
      make("ul", {}, ...batches.map(row))),
    make("section", { id: "devices" }),
  );
  drawDevices();
}

function begin(recipes) {
  const choice = make("select", { id: "recipe" }, ...recipes.map(({ name, title }) => make("option", { value: name }, title)));
  const trouble = make("p", { role: "alert" });
  const start = async (event) => {
    event.preventDefault();
    try {
      await beginBatch({ recipe: choice.value });
    } catch (error) {
      trouble.textContent = error.message;
    }
  };
  return make("section", {},
    make("h2", {}, "A new batch"),
    make("form", { onsubmit: start },
      make("label", { for: "recipe" }, "Recipe"),
      make("div", { class: "begin" }, choice, make("button", { type: "submit", class: "first" }, "Begin"))),
    trouble);
}

function row(batch) {
  const id = encodeURIComponent(batch.batch);
  return make("li", { class: "listed" },
    make("span", {}, `${batch.batch}: ${batch.title}`, make("br"), make("span", { class: "soft" }, batch.standing)),
    batch.open ? make("a", { class: "button first", href: `/?batch=${id}` }, "Go on") : null,
    make("a", { class: "button", href: `/batches?batch=${id}` }, "Report"));
}

function drawReport(told) {
  const id = encodeURIComponent(told.batch);
  const curve = make("div", { id: "curve" });
  document.querySelector("h1")?.replaceChildren("Report");
  document.title = `Report of ${told.batch} · Panside`;
  content().replaceChildren(
    make("p", { class: "row" },
      told.open ? make("a", { class: "button first", href: `/?batch=${id}` }, "Go on with it") : null,
      told.bottled ? make("a", { class: "button", href: "#labels" }, "Labels") : null,
      told.open ? null : againButton(told.batch),
      make("button", { type: "button", onclick: () => print() }, "Print")),
    curve,
    make("div", { class: "report", tabindex: "0", role: "region", "aria-label": "Report" }, told.lines.join("\n")),
    make("p", { class: "small" }, told.caution),
    ...(told.bottled ? [labels(told)] : []),
  );
  if (told.curve) drawCurve({ ...told.curve, live: false }, told.hold, 0);
}

function againButton(batch) {
  const again = (event) => beginBatch({ again: batch }).catch((error) => event.target.replaceWith(make("span", { role: "alert" }, error.message)));
  return make("button", { type: "button", onclick: again }, "Make it again");
}

