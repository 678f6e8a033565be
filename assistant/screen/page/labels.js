// The labels of a bottled batch: one of each size to look at, the sheet, and the PDF to print.
import { at, make } from "./make.js";

export function labels({ batch, sheets, sizes, pictures }) {
  const several = sizes.length > 1;
  const address = (kind, size, ...ids) => {
    const asked = new URLSearchParams(ids.map((id) => [id, at(id).value]));
    if (size && several) asked.set("size", size);
    return `/label/${encodeURIComponent(batch)}.${kind}?${asked}`;
  };
  const changed = () => {
    sizes.forEach(({ size }, n) => {
      at(`label-picture-${n}`).setAttribute("src", address("svg", size, "sheet"));
      if (pictures) at(`label-png-${n}`).setAttribute("href", address("png", size, "sheet"));
    });
    at("label-pdf").setAttribute("href", address("pdf", at("label-size")?.value, "sheet", "copies", "start"));
  };
  const drawn = make("section", { id: "labels", "aria-labelledby": "labels-name" },
    make("h2", { id: "labels-name" }, "Labels"),
    ...sizes.map((each, n) => looked(each, n, several, pictures)),
    make("div", { class: "fields" },
      field("sheet", "Sheet", make("select", { id: "sheet", onchange: changed }, ...sheets.map(({ name, words }) => make("option", { value: name }, words)))),
      several ? field("label-size", "For which bottles", make("select", { id: "label-size", onchange: changed },
        make("option", { value: "" }, "all"), ...sizes.filter(({ size }) => size).map(({ size, words }) => make("option", { value: size }, words)))) : null,
      field("copies", several ? "How many of each; empty for one a bottle" : "How many; empty for one a bottle", make("input", { id: "copies", inputmode: "numeric", oninput: changed })),
      field("start", "First label to print on", make("input", { id: "start", inputmode: "numeric", value: "1", oninput: changed })),
      make("a", { class: "button first", id: "label-pdf", target: "_blank" }, "Labels (PDF)")),
    make("p", { class: "small" }, "Print at full size (100 per cent), and try it on plain paper first."));
  queueMicrotask(changed);
  return drawn;
}

const field = (id, words, control) => make("p", {}, make("label", { for: id }, words), control);

function looked({ words }, n, several, pictures) {
  return make("figure", {},
    make("img", { id: `label-picture-${n}`, alt: several ? `The label as it will be printed, ${words}` : "The label as it will be printed" }),
    make("figcaption", {}, several ? words : "", pictures ? make("a", { class: "button", id: `label-png-${n}`, download: "" }, "Picture (PNG)") : null));
}
