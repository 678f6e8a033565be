// The labels of a bottled batch: one to look at, the sheet, and the PDF to print.
import { at, make } from "./make.js";

export function labels(batch, sheets) {
  const address = (kind, ...ids) => `/label/${encodeURIComponent(batch)}.${kind}?${new URLSearchParams(ids.map((id) => [id, at(id).value]))}`;
  const changed = () => {
    at("label-picture").setAttribute("src", address("svg", "sheet"));
    at("label-pdf").setAttribute("href", address("pdf", "sheet", "copies", "start"));
  };
  const drawn = make("section", { id: "labels", "aria-labelledby": "labels-name" },
    make("h2", { id: "labels-name" }, "Labels"),
    make("img", { id: "label-picture", alt: "The label as it will be printed" }),
    make("div", { class: "fields" },
      make("p", {}, make("label", { for: "sheet" }, "Sheet"),
        make("select", { id: "sheet", onchange: changed }, ...sheets.map(({ name, words }) => make("option", { value: name }, words)))),
      make("p", {}, make("label", { for: "copies" }, "How many; empty for one a bottle"), make("input", { id: "copies", inputmode: "numeric", oninput: changed })),
      make("p", {}, make("label", { for: "start" }, "First label to print on"), make("input", { id: "start", inputmode: "numeric", value: "1", oninput: changed })),
      make("a", { class: "button first", id: "label-pdf", target: "_blank" }, "Labels (PDF)")),
    make("p", { class: "small" }, "Print at full size (100 per cent), and try it on plain paper first."));
  queueMicrotask(changed);
  return drawn;
}
