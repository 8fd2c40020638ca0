// Many items arranged at once: asked for in a dialog, told in a strip below the sheet while the hand goes on, offered, taken
// or left.
// @ts-check
import { desk, wire } from "./desk.js";
import { element, front } from "./layouts.js";
import { button, by, dialog, input } from "./page.js";

/** @type {any} */
let last = { is: "idle", told: null };

/** The chosen items; a label goes with its own. */
const movable = () => desk.chosen.filter((id) => desk.items.get(id) && !desk.items.get(id)?.label);

button("arrange").onclick = () => {
  if (last.is === "offers") return look();
  const chosen = movable();
  by("arrange-chosen").textContent = chosen.length ? `the chosen items (${chosen.join(", ")})` : "the chosen items: none is chosen";
  input("arrange-some").disabled = !chosen.length;
  input("arrange-all").checked = !chosen.length;
  input("arrange-some").checked = chosen.length > 0;
  by("arrange-news").textContent = "";
  dialog("arranging").showModal();
};
button("arrange-close").onclick = () => dialog("arranging").close();
by("arrange-asked").addEventListener("submit", (e) => {
  e.preventDefault();
  const ids = input("arrange-some").checked ? movable() : null;
  wire.ask({ do: "arrange", act: "start", ids, moves: Number(input("arrange-moves").value), seed: Number(input("arrange-seed").value) });
});

wire.on.set("arranging", (m) => {
  const began = last.is !== "runs" && m.is === "runs";
  last = m;
  if (began) dialog("arranging").close();
  strip();
  if (m.is !== "offers") dialog("offer").close();
});

/** The strip: how far it is, or that something is offered. */
function strip() {
  const { is, told } = last;
  by("strip").hidden = is === "idle";
  const deeds = [];
  let words = "";
  const stale = told?.revision !== undefined && desk.state && told.revision !== desk.state.revision;
  const other = stale ? " The panel has been changed meanwhile: what comes of it can be kept as a layout, not laid over the change." : "";
  if (is === "runs") {
    words = `Arranging: ${told.made} of ${told.most} moves; ${told.phase}${told.state ? `, ${told.state}` : ""}.${other}`;
    deeds.push(deed("Stop and keep the best", () => wire.ask({ do: "arrange", act: "stop" })));
  } else if (is === "offers") {
    words = `An arrangement is offered: ${told.moved.length} items would move.${other}`;
    deeds.push(deed("Look at it", look), leave());
  } else if (is === "none") {
    words = told.words;
    deeds.push(deed("Close", () => wire.ask({ do: "arrange", act: "leave" })));
  }
  if (by("strip-words").textContent !== words) by("strip-words").textContent = words;
  const old = [...by("strip-deeds").children].map((b) => b.textContent).join();
  // a button under a finger stays
  if (old !== deeds.map((b) => b.textContent).join()) by("strip-deeds").replaceChildren(...deeds);
}
/** The panel has come anew. */
export const again = strip;

/** @param {string} words @param {() => void} run */
function deed(words, run) {
  const b = element("button", words);
  b.onclick = run;
  return b;
}
const leave = () => deed("Leave it", () => wire.ask({ do: "arrange", act: "leave" }));

function look() {
  const { told } = last;
  const c = told.card.counts;
  const how = `Seed ${told.seed}, ${told.made} of ${told.most} moves${told.stopped ? "; stopped: another run may come out otherwise" : "; the same seed and moves come to the same"}. Cost ${told.cost}, the less the better.`;
  by("offer-told").replaceChildren(
    front(told.card.svg, "Front view as arranged"),
    element("p", `${c.fail} fail, ${c.withheld} withheld, ${c.tight} tight, ${c.pass} pass`, "counts"),
    element("p", `From the panel as it was: ${told.card.differs}. Moved: ${told.moved.join(", ") || "nothing"}.`),
    element("p", how),
  );
  by("offer-news").textContent = "";
  if (!dialog("offer").open) dialog("offer").showModal();
}
button("offer-take").onclick = () => wire.ask({ do: "arrange", act: "take" });
button("offer-keep").onclick = () => {
  by("offer-news").textContent = "Kept as a layout.";
  wire.ask({ do: "arrange", act: "keep", name: "" });
};
button("offer-leave").onclick = () => wire.ask({ do: "arrange", act: "leave" });
button("offer-close").onclick = () => dialog("offer").close();
