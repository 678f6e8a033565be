// From what is wanted back to a shopping list, a pan and a time.
import { mindBells } from "./bells.js";
import { at, make } from "./make.js";
import { content, read, settle } from "./shell.js";

const WISHES = [["bottles", "Bottles"], ["litres", "Litres of syrup"], ["guests", "Guests"], ["fruit", "Kilos of fruit to use up"]];

settle();
mindBells(look);
look();

function look() {
  read("/api/batches", drawForm);
}

function drawForm({ recipes }) {
  if (document.getElementById("recipe")) return;
  const fruits = () => {
    const found = recipes.find(({ name }) => name === at("recipe").value)?.fruits ?? [];
    at("fruit").replaceChildren(
      make("option", { value: "" }, found.length ? "not chosen yet" : "none"),
      ...found.map((name) => make("option", { value: name }, name.replaceAll("-", " "))));
  };
  at("wish").replaceChildren(
    make("form", { class: "fields", onsubmit: planned },
      field("recipe", "Recipe", make("select", { id: "recipe", onchange: fruits }, ...recipes.map(({ name, title }) => make("option", { value: name }, title)))),
      field("fruit", "Fruit", make("select", { id: "fruit" })),
      field("kind", "What is wanted", make("select", { id: "kind" }, ...WISHES.map(([value, words]) => make("option", { value }, words)))),
      field("amount", "How many", make("input", { id: "amount", inputmode: "decimal", required: true, value: "12" })),
      field("size", "A bottle holds (ml)", make("input", { id: "size", inputmode: "numeric", required: true, value: "500" })),
      make("button", { type: "submit", class: "first" }, "Plan it")));
  fruits();
}

function field(id, words, input) {
  return make("p", {}, make("label", { for: id }, words), input);
}

function planned(event) {
  event.preventDefault();
  const asked = new URLSearchParams(["recipe", "fruit", "kind", "amount", "size"].map((id) => [id, at(id).value.replace(",", ".")]));
  content().replaceChildren();
  read(`/api/plan?${asked}`, drawPlan);
}

function drawPlan({ lines }) {
  content().replaceChildren(
    make("p", { class: "row" }, make("button", { type: "button", onclick: () => print() }, "Print")),
    make("div", { class: "report", tabindex: "0", role: "region", "aria-label": "Plan and shopping list" }, lines.join("\n")));
}
