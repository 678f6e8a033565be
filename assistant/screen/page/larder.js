// The larder as it stands today: what to throw away comes first.
import { make } from "./make.js";
import { content, read, settle } from "./shell.js";

settle();
read("/api/larder", drawLarder);

// A heading is a line that says what to do; those after it are the bottles.
function drawLarder({ lines }) {
  const sections = [];
  for (const line of lines) {
    if (line.rank === "do" || line.rank === "limit") sections.push({ head: line, rows: [] });
    else if (sections.length) sections.at(-1).rows.push(line);
    else sections.push({ head: line, rows: [] });
  }
  content().replaceChildren(...sections.map(section));
}

function section({ head, rows }) {
  return make("section", { class: head.rank === "limit" ? "away" : "kept" },
    make("h2", {}, head.text),
    make("ul", {}, ...rows.map((row) => make("li", {}, row.text))));
}
