// The board: the drawing under the hand, the rules beside it. The server owns the text, undo and the journal.
// @ts-check
import { choose, count, desk, lay, sheet, wire } from "./desk.js";
import { letGo } from "./hold.js";
import { ask, button, by, dialog, input, notice } from "./page.js";
import { grids } from "./set.js";
import { again } from "./arrange.js";
import { refresh } from "./layouts.js";
import "./behind.js";
import "./guide.js";
import "./keys.js";
import "./made.js";
import "./numbers.js";
import "./photo-trace.js";
import "./photo-under.js";
import "./pointers.js";
import { view as photograph, wired } from "./photograph.js";
import { follow } from "./shelf.js";

Object.assign(window, { board: desk });
Object.assign(desk, { photograph });

wire.told = (/** @type {boolean} */ open) => {
  document.documentElement.dataset.wire = open ? "open" : "lost";
  if (!open && desk.held) letGo();
  if (!open) notice("The program does not answer; what was done is in its journal. Start it again and use the new address.", []);
  else notice("", []);
  wired(open);
};

wire.on.set("state", (m) => {
  desk.state = m;
  desk.items = new Map(m.items.map((/** @type {import("./desk.js").Placed} */ i) => [i.id, i]));
  desk.chosen = desk.chosen.filter((id) => desk.items.has(id));
  by("name").textContent = m.name;
  document.title = `${m.name}: board`;
  by("file").textContent = m.file + (m.changed ? ", not saved" : ", saved");
  count(m.counts);
  button("undo").disabled = m.undo === 0;
  button("redo").disabled = m.redo === 0;
  button("save").disabled = !m.changed;
  desk.drop = null; // it was done
  desk.stale = true;
  if (desk.held) return; // another page changed something: shown when the hand lets go
  lay(m);
  grids(m.unit);
  follow(m.unit);
  refresh();
  again();
  if (m.offer) notice(m.offer, offered([]));
  else if (m.conflict) conflict();
  else if (document.documentElement.dataset.wire === "open") notice(m.view.problem ?? "", []);
});

/** What can be answered to an offer of what an earlier run left, and what is done then. @param {any[]} then @returns {[string, () => void][]} */
function offered(then) {
  return [
    ["Take it up", () => wire.ask({ do: "offer", take: true })],
    [then.length ? "Give it up and go on" : "Give it up", () => {
      wire.ask({ do: "offer", take: false });
      then.forEach((m) => wire.ask(m));
    }],
  ];
}

/** What was asked while it was not said what becomes of an offer. @type {any[]} */
let waiting = [];
wire.on.set("offered", (m) => {
  letGo();
  if (!dialog("ask").open) waiting = [];
  waiting.push(m.again);
  ask(`${m.words} What you did just now would give that up.`, offered(waiting), "Leave it for now");
});
wire.on.set("refused", (m) => {
  const again = desk.drop;
  desk.drop = null;
  letGo();
  if (m.asks && again) {
    ask(`${m.words}.`, [[again.answer, () => again.run(true)]], "Leave it");
  } else notice(m.words, [["Close", () => notice("", [])]]);
});
wire.on.set("conflict", conflict);
wire.on.set("saved", () => {
  document.documentElement.dataset.saved = String(Date.now());
});

function conflict() {
  notice("The file was changed by another program since it was read. Nothing of it is overwritten unless you say so.", [
    ["Take the file's", () => wire.ask({ do: "reload" })],
    ["Keep mine, replace the file", () => wire.ask({ do: "save", over: true })],
  ]);
}

// ---- how it is looked at

button("closer").onclick = () => sheet.zoom(1.25);
button("farther").onclick = () => sheet.zoom(0.8);
button("whole").onclick = () => sheet.look(null);
input("only").onchange = () => choose(desk.chosen);

/** @param {boolean} dark */
function paper(dark) {
  document.documentElement.dataset.paper = dark ? "dark" : "light";
  button("paper").textContent = dark ? "Light paper" : "Dark paper";
}
paper(matchMedia("(prefers-color-scheme: dark)").matches);
button("paper").onclick = () => paper(document.documentElement.dataset.paper !== "dark");
