// Chosen items set exactly, by numbers; turned.
// @ts-check
import { desk, one, wire } from "./desk.js";
import { drop } from "./hold.js";
import { button, by, input } from "./page.js";

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
  if (!i) return turnAll(input("turn").value.trim());
  const [x, y, turn] = ["x", "y", "turn"].map((key) => input(key).value.trim());
  const turns = !i.label && turn !== "" && Number(turn) !== i.turn;
  if (!turns || x !== i.x || y !== i.y) drop((plain) => wire.ask({ do: "put", id: i.id, x, y, plain }));
  if (turns) wire.ask({ do: "turn", id: i.id, to: turn });
});
button("turn-left").onclick = () => quarter(90);

/** What is chosen turned by a quarter. @param {number} by 90, or -90 */
export function quarter(by) {
  const i = one();
  if (!i) turnAll(by);
  else if (!i.label) wire.ask({ do: "turn", id: i.id, to: (i.turn + 360 + by) % 360 });
}

/** All that are chosen, about the middle of what they cover. @param {number | string} by degrees, as they were typed */
function turnAll(by) {
  const ids = [...desk.chosen];
  if (ids.length) drop((plain) => wire.ask({ do: "turn-all", ids, by, plain }));
}
