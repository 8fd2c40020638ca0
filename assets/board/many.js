// What is done to several chosen items in one step: aligned, spread, mirrored, copied, kept together, taken out.
// @ts-check
import { all, desk, wire } from "./desk.js";
import { centreLine, middle, says } from "./guide.js";
import { drop } from "./hold.js";
import { button, by } from "./page.js";

/** Items each brought by a way of its own, as one step. @param {[string, number[]][]} each */
function bring(each) {
  const ways = each.filter(([, by]) => Math.hypot(by[0], by[1]) > 1e-6);
  if (ways.length) drop((plain) => wire.ask({ do: "bring", each: ways, plain }));
}

/** All chosen ones to the height (or the column) of the first. @param {number} axis */
function align(axis) {
  const [first, ...rest] = all();
  bring(rest.map((i) => [i.id, axis ? [0, first.at[1] - i.at[1]] : [first.at[0] - i.at[0], 0]]));
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
  bring(chosen.slice(1, -1).map((i, k) => {
    // whole hundredths: what a file says is what a hand can mark out
    const d = Math.round((from + step * (k + 1)) * 100) / 100 - i.at[axis];
    return [i.id, axis ? [0, d] : [d, 0]];
  }));
};

/** All chosen ones with one edge where the first has it. @param {number} side of a box: left, lower, right, upper */
function edge(side) {
  const [first, ...rest] = all();
  bring(rest.map((i) => [i.id, side % 2 ? [0, first.box[side] - i.box[side]] : [first.box[side] - i.box[side], 0]]));
}
const SIDES = ["edge-left", "edge-lower", "edge-right", "edge-upper"];
SIDES.forEach((id, side) => (button(id).onclick = () => edge(side)));
button("gaps").onclick = () => {
  const chosen = all();
  const wide = Math.max(...chosen.map((i) => i.box[2])) - Math.min(...chosen.map((i) => i.box[0]));
  const tall = Math.max(...chosen.map((i) => i.box[3])) - Math.min(...chosen.map((i) => i.box[1]));
  const axis = wide >= tall ? 0 : 1;
  chosen.sort((a, b) => a.box[axis] - b.box[axis]);
  const last = chosen[chosen.length - 1];
  // the first and the last stay where they are
  const covered = chosen.slice(1, -1).reduce((sum, i) => sum + i.box[axis + 2] - i.box[axis], 0);
  const gap = (last.box[axis] - chosen[0].box[axis + 2] - covered) / (chosen.length - 1);
  let from = chosen[0].box[axis + 2];
  bring(chosen.slice(1, -1).map((i) => {
    const d = Math.round((from + gap - i.box[axis]) * 100) / 100;
    from += gap + i.box[axis + 2] - i.box[axis];
    return [i.id, axis ? [0, d] : [d, 0]];
  }));
};

/** Places mirrored about an upright line, instruments as they are. @param {number} about */
function mirror(about) {
  const ids = [...desk.chosen];
  drop((plain) => wire.ask({ do: "mirror", ids, about, plain }));
}
button("mirror").onclick = () => mirror(centreLine());
button("swap").onclick = () => mirror(middle()[0]);

/** @param {string} key @param {(i: import("./desk.js").Placed) => boolean} says */
function flag(key, says) {
  const chosen = all();
  if (chosen.length) wire.ask({ do: "flag", ids: chosen.map((i) => i.id), key, is: !chosen.every(says) });
}
button("lock").onclick = () => flag("locked", (i) => i.locked);
button("provision").onclick = () => flag("provision", (i) => i.provision);
button("together").onclick = () => {
  if (desk.chosen.length) wire.ask({ do: "together", ids: desk.chosen, together: button("together").dataset.on !== "true" });
};

export function copy() {
  if (desk.chosen.length) wire.ask({ do: "copy", ids: desk.chosen });
}
button("copy").onclick = copy;
wire.on.set("copied", (m) => {
  desk.chosen = m.ids;
});

export function remove() {
  const ids = [...desk.chosen];
  // what stands beside them is asked about
  if (ids.length) drop((plain) => wire.ask({ do: "delete", ids, plain }), "Do so and take out");
}
button("delete").onclick = remove;

/** Opens or closes the list of what is asked for less often; it lies over the desk, so that nothing under a hand moves. @param {boolean} open */
function more(open) {
  by("more-list").hidden = !open;
  button("more").setAttribute("aria-expanded", String(open));
}
button("more").onclick = () => more(by("more-list").hidden);
by("more-list").addEventListener("click", () => more(false));
addEventListener("pointerdown", (e) => {
  if (e.target instanceof Element && !e.target.closest("#more-list, #more")) more(false);
});
by("block").addEventListener("keydown", (e) => {
  if (e.key !== "Escape" || by("more-list").hidden) return;
  // what is chosen stays chosen
  e.stopPropagation();
  more(false);
  button("more").focus();
});

/** Which of the buttons say something now. */
desk.ready = () => {
  const chosen = all();
  const n = chosen.length;
  for (const id of ["lock", "copy", "delete", "mirror"]) button(id).disabled = !n;
  for (const id of ["row", "column", "swap", ...SIDES]) button(id).disabled = n < 2;
  for (const id of ["spread", "gaps"]) button(id).disabled = n < 3;
  says();
  button("lock").textContent = n && chosen.every((i) => i.locked) ? "Free" : "Lock";
  const instruments = n > 0 && chosen.every((i) => !i.label);
  button("provision").disabled = !instruments;
  button("numbers-of").disabled = !instruments || n > 1;
  button("provision").textContent = instruments && chosen.every((i) => i.provision) ? "No provision" : "Provision";
  const on = n > 0 && chosen[0].together !== null && chosen.every((i) => i.together === chosen[0].together);
  button("together").disabled = n < 2 && !on;
  button("together").dataset.on = String(on);
  button("together").textContent = on ? "Let apart" : "Keep together";
};
