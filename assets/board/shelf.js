// The shelf: what there is to add from the catalogue.
// @ts-check
import { desk, findings, wire } from "./desk.js";
import { button, by, dialog, input, notice } from "./page.js";

/** @type {{ name: string, title: string, kind: string, words: string[] }[]} */
let shelf = [];

export function open() {
  if (!shelf.length) wire.ask({ do: "catalogue" });
  dialog("shelf").showModal();
  input("look").focus();
}
button("add").onclick = open;
button("shelf-close").onclick = () => dialog("shelf").close();
input("look").oninput = shelve;

wire.on.set("catalogue", (m) => {
  shelf = m.all;
  shelve();
});
wire.on.set("added", (m) => {
  desk.chosen = [m.id];
  findings.current = null;
});

function shelve() {
  const words = input("look").value.toLowerCase().split(/\s+/).filter(Boolean);
  const hits = shelf.filter((i) => words.every((w) => `${i.name} ${i.title} ${i.kind} ${i.words.join(" ")}`.toLowerCase().includes(w)));
  const rows = hits.slice(0, 100).map((i) => {
    const row = document.createElement("li");
    const b = document.createElement("button");
    b.textContent = i.title;
    const small = document.createElement("small");
    small.textContent = i.name;
    b.append(small);
    b.onclick = () => {
      dialog("shelf").close();
      notice(`Looking for the place with most room for ${i.title} …`, []);
      wire.ask({ do: "add", instrument: i.name });
    };
    row.append(b);
    return row;
  });
  by("shelf-list").replaceChildren(...rows);
}
