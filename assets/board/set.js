// Chosen items set exactly: by numbers, by keys, in a row, evenly; locked, turned, taken out.
// @ts-check
import { all, choose, desk, one, sheet, wire } from "./desk.js";
import { drop, grid, letGo } from "./hold.js";
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
button("lock").onclick = () => {
  const i = one();
  if (i) wire.ask({ do: "lock", id: i.id, locked: !i.locked });
};
button("delete").onclick = remove;
function remove() {
  for (const id of desk.chosen) wire.ask({ do: "delete", id });
}

/** All chosen ones to the height (or the column) of the first. @param {number} axis */
function align(axis) {
  const [first, ...rest] = all();
  for (const i of rest) {
    const d = first.at[axis] - i.at[axis];
    if (Math.abs(d) > 1e-6) wire.ask({ do: "move", ids: [i.id], by: axis ? [0, d] : [d, 0], plain: false });
  }
}
button("row").onclick = () => align(1);
button("column").onclick = () => align(0);
button("spread").onclick = () => {
  const chosen = all();
  const wide = Math.max(...chosen.map((i) => i.at[0])) - Math.min(...chosen.map((i) => i.at[0]));
  const tall = Math.max(...chosen.map((i) => i.at[1])) - Math.min(...chosen.map((i) => i.at[1]));
  const axis = wide >= tall ? 0 : 1;
  chosen.sort((a, b) => a.at[axis] - b.at[axis]);
  const from = chosen[0].at[axis], step = (chosen[chosen.length - 1].at[axis] - from) / (chosen.length - 1);
  chosen.slice(1, -1).forEach((i, k) => {
    // whole hundredths: what a file says is what a hand can mark out
    const d = Math.round((from + step * (k + 1)) * 100) / 100 - i.at[axis];
    if (Math.abs(d) > 1e-6) wire.ask({ do: "move", ids: [i.id], by: axis ? [0, d] : [d, 0], plain: false });
  });
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
      choose(e.shiftKey ? [...new Set([...chosen, id])] : [id]);
    } else if (key.startsWith("arrow")) {
      if (e.target instanceof HTMLElement && e.target.closest("aside")) return;
      if (!chosen.length) return;
      const step = grid() * (e.shiftKey ? 10 : e.altKey ? 0.1 : 1);
      nudge(chosen, [step * (Number(key === "arrowright") - Number(key === "arrowleft")), step * (Number(key === "arrowup") - Number(key === "arrowdown"))]);
    } else return;
  }
  e.preventDefault();
});
