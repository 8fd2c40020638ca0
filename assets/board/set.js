// Chosen items set exactly: by numbers and by keys; turned.
// @ts-check
import { choose, desk, one, sheet, wire, withIts } from "./desk.js";
import { drop, grid, letGo } from "./hold.js";
import { copy, remove } from "./many.js";
import { button, by, input } from "./page.js";
import { open as openShelf } from "./shelf.js";

/** Fills the list of steps. @param {string} unit */
export function grids(unit) {
  const list = /** @type {HTMLSelectElement} */ (by("grid"));
  if (list.options.length) return;
  const steps = unit === "in"
    ? [[25.4 / 16, "1/16 in"], [25.4 / 64, "1/64 in"], [25.4 / 8, "1/8 in"], [0.254, "0.01 in"]]
    : [[1, "1 mm"], [0.1, "0.1 mm"], [5, "5 mm"], [0.01, "0.01 mm"]];
  for (const [mm, words] of steps) list.add(new Option(String(words), String(mm)));
}

by("block").addEventListener("submit", (e) => {
  e.preventDefault();
  const i = one();
  if (!i) return;
  const turn = Number(input("turn").value);
  if (!i.label && input("turn").value.trim() !== "" && turn !== i.turn) return wire.ask({ do: "turn", id: i.id, to: turn });
  drop((plain) => wire.ask({ do: "put", id: i.id, x: input("x").value, y: input("y").value, plain }));
});
button("turn-left").onclick = () => {
  const i = one();
  if (i) wire.ask({ do: "turn", id: i.id, to: (i.turn + 90) % 360 });
};
const undo = () => wire.ask({ do: "undo" });
const redo = () => wire.ask({ do: "redo" });
const save = () => wire.ask({ do: "save", over: false });
button("undo").onclick = undo;
button("redo").onclick = redo;
button("save").onclick = save;

/** @param {string[]} ids @param {number[]} b */
const nudge = (ids, b) => drop((plain) => wire.ask({ do: "move", ids, by: b, plain }));

addEventListener("keydown", (e) => {
  const typing = e.target instanceof HTMLInputElement || e.target instanceof HTMLSelectElement;
  const control = e.ctrlKey || e.metaKey;
  const key = e.key.toLowerCase();
  const { chosen } = desk;
  if (control && key === "s") save();
  else if (document.querySelector("dialog[open]")) return;
  else if (control && !typing && (key === "y" || (key === "z" && e.shiftKey))) redo();
  else if (control && !typing && key === "z") undo();
  else if (control && !typing && key === "d") copy();
  else if (control || typing) return;
  else if (key === "escape") {
    letGo();
    choose([]);
  } else if (key === "insert") openShelf();
  else if (key === "delete") remove();
  else if (key === "+") sheet.zoom(1.25);
  else if (key === "-") sheet.zoom(0.8);
  else if (key === "0") sheet.look(null);
  else {
    const id = e.target instanceof SVGElement ? e.target.dataset.id : undefined;
    if (id && (key === "enter" || key === " ")) {
      choose(e.shiftKey ? [...new Set([...chosen, ...withIts(id)])] : withIts(id));
    } else if (key.startsWith("arrow")) {
      if (e.target instanceof HTMLElement && e.target.closest("aside")) return;
      if (!chosen.length) return;
      const step = grid() * (e.shiftKey ? 10 : e.altKey ? 0.1 : 1);
      nudge(chosen, [step * (Number(key === "arrowright") - Number(key === "arrowleft")), step * (Number(key === "arrowup") - Number(key === "arrowdown"))]);
    } else return;
  }
  e.preventDefault();
});
