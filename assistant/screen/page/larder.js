// The larder as it stands today: what to throw away comes first, and what became of bottles.
import { mindBells } from "./bells.js";
import { openList } from "./list.js";
import { at, make } from "./make.js";
import { content, read, send, settle } from "./shell.js";

const SIGNS = [
  ["It fizzes or popped", "fizzing"], ["The cap bulges", "bulging"], ["Mould or a film", "mould"],
  ["It smells or tastes off", "off_smell"], ["It leaks", "leaking"], ["It turned cloudy", "cloudy"],
];

// What is true of the whole batch, whatever bottle it was seen on.
const WHOLE = ["sign", "recall"];

settle();
at("list-close").addEventListener("click", () => at("list").close());
at("give-close").addEventListener("click", () => at("give").close());
look();
mindBells(look);

function look() {
  read("/api/larder", drawLarder);
}

// A heading is a line that says what to do; those after it are the bottles.
function drawLarder({ lines, kept = [] }) {
  /** @type {{head: any, rows: any[]}[]} */
  const sections = [];
  for (const line of lines) {
    if (line.rank === "do" || line.rank === "limit") sections.push({ head: line, rows: [] });
    else if (sections.length) sections[sections.length - 1].rows.push(line);
    else sections.push({ head: line, rows: [] });
  }
  content().replaceChildren(...sections.map(section), ...(kept.length ? [doings(kept)] : []));
}

function section({ head, rows }) {
  return make("section", { class: head.rank === "limit" ? "away" : "kept" },
    make("h2", {}, head.text),
    make("ul", {}, ...rows.map((row) => make("li", {}, row.text))));
}

function doings(kept) {
  return make("section", {},
    make("h2", {}, "What became of them"),
    make("ul", {}, ...kept.map((each) =>
      make("li", { class: "listed" },
        make("span", {}, `${each.batch}: ${each.title}`, make("br"), make("span", { class: "soft" }, inStore(each))),
        make("button", { type: "button", onclick: () => choose(each) }, "Write down")))));
}

// sort : "bottles of 330 ml", "" where the batch has only one
const inStore = ({ closed, opened, sort }) => [sort, opened ? `${closed} closed, ${opened} open` : `${closed} in store`].filter(Boolean).join(": ");

function choose(each) {
  const one = [["One was used up", { act: "use" }], ["One was opened", { act: "open" }]];
  const moves = [["All go to the fridge", { act: "move", place: "fridge" }], ["All go to the freezer", { act: "move", place: "freezer" }]];
  const last = [["Some were given away", null], ["Something is wrong with one", "sign"], ["All are thrown away", { act: "discard" }]];
  const taps = [...one, ...moves, ...last].map(([words, says]) => ({ words, says }));
  openList(each.sort ? `${each.title}, ${each.sort}` : each.title, taps, (says) => {
    if (says === null) give(each);
    else if (says === "sign") openList("What did you see?", SIGNS.map(([words, sign]) => ({ words, says: { act: "sign", sign } })), (sign) => act(each, sign));
    else act(each, says);
  });
}

function give(each) {
  const form = at("give-form");
  form.onsubmit = (event) => {
    event.preventDefault();
    const to = at("to").value.trim();
    const count = Number(at("count").value);
    if (!to || !Number.isInteger(count) || count < 1) return;
    at("give").close();
    act(each, { act: "give", to, count });
  };
  at("to").value = "";
  at("count").value = "1";
  at("give").showModal();
}

async function act(each, what) {
  const told = await send("/api/larder", { batch: each.batch, ...(WHOLE.includes(what.act) || !each.vessel ? {} : { vessel: each.vessel }), ...what }).catch((error) => ({ said: [error.message] }));
  at("told").replaceChildren(...told.said.map((words) => make("p", {}, words)));
  look();
}
