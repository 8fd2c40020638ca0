// The keys of the board: one table of what each does, from which they are answered and from which the help is written.
// @ts-check
import { choose, desk, sheet, wire, withIts } from "./desk.js";
import { drop, grid, letGo } from "./hold.js";
import { copy, remove } from "./many.js";
import { button, by, dialog } from "./page.js";
import { quarter } from "./set.js";
import { open as openShelf } from "./shelf.js";

/** How far a key pushes the sheet, pixels. */
const PUSH = 60;

/** A key: how it is written, what it does; `on`: not for every element that has the focus; `typing`: in a field too.
 * @typedef {{ keys: string[], does: string, run?: (e: KeyboardEvent) => void, on?: (e: KeyboardEvent) => boolean, typing?: boolean }} Key */

const undo = () => wire.ask({ do: "undo" });
const redo = () => wire.ask({ do: "redo" });
const save = () => wire.ask({ do: "save", over: false });
button("undo").onclick = undo;
button("redo").onclick = redo;
button("save").onclick = save;

const ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];
const arrows = (/** @type {string} */ before) => ARROWS.map((a) => before + a);
/** Which way an arrow points, y up. @param {KeyboardEvent} e */
const way = (e) => [[-1, 0], [1, 0], [0, 1], [0, -1]][ARROWS.indexOf(e.key)];
/** @param {KeyboardEvent} e @param {number} far */
const push = (e, far) => sheet.pan(-way(e)[0] * far, way(e)[1] * far);
/** The list of findings and what lies behind have arrows of their own. @param {KeyboardEvent} e */
const onSheet = (e) => !(e.target instanceof HTMLElement && e.target.closest("aside"));

/** Chosen items moved by so many steps; with none chosen the sheet is pushed. @param {number} steps @returns {(e: KeyboardEvent) => void} */
const nudge = (steps) => (e) => {
  if (!desk.chosen.length) return push(e, PUSH * Math.max(1, Math.min(steps, 4)));
  const [ids, b] = [desk.chosen, way(e).map((d) => d * grid() * steps)];
  drop((plain) => wire.ask({ do: "move", ids, by: b, plain }));
};
/** The item that has the focus. @param {KeyboardEvent} e */
const here = (e) => (e.target instanceof SVGElement ? e.target.dataset.id : undefined);
const onItem = (/** @type {KeyboardEvent} */ e) => here(e) !== undefined;
/** Chooses the item that has the focus. @param {boolean} adds @returns {(e: KeyboardEvent) => void} */
const pick = (adds) => (e) => {
  const own = withIts(here(e) ?? "");
  choose(adds ? [...new Set([...desk.chosen, ...own])] : own);
};
function everything() {
  choose([...desk.items.values()].filter((i) => !i.held && !i.locked && !i.elsewhere).map((i) => i.id));
}
function help() {
  if (!by("keys-list").childElementCount) by("keys-list").append(...TABLE.map(([head, rows]) => table(head, rows)), table("Mouse and fingers", HANDS));
  dialog("keys-help").showModal();
  by("keys-list").focus();
}

/** @type {[string, Key[]][]} */
const TABLE = [
  ["Anywhere", [
    { keys: ["Ctrl+z"], does: "undo the last step, as often as there are steps", run: undo },
    { keys: ["Ctrl+y", "Ctrl+Shift+z"], does: "do again what was undone", run: redo },
    { keys: ["Ctrl+s"], does: "save the file", run: save, typing: true },
    { keys: ["Insert"], does: "add an instrument from the catalogue", run: openShelf },
    { keys: ["Tab"], does: "to the next item, button or field; with Shift to the one before" },
    { keys: ["?"], does: "these keys", run: help },
  ]],
  ["What is chosen", [
    { keys: ["Enter"], does: "choose the item that has the focus; the space bar does the same", run: pick(false), on: onItem },
    { keys: ["Shift+Enter"], does: "choose it to those that are chosen", run: pick(true), on: onItem },
    { keys: ["Ctrl+a"], does: "choose all items that are not locked nor on a floating panel", run: everything },
    { keys: ["Escape"], does: "let go, choose nothing", run: () => {
      letGo();
      choose([]);
    } },
    { keys: ARROWS, does: "move what is chosen by the step", run: nudge(1), on: onSheet },
    { keys: arrows("Shift+"), does: "by ten steps", run: nudge(10), on: onSheet },
    { keys: arrows("Alt+"), does: "by a tenth of the step", run: nudge(0.1), on: onSheet },
    { keys: ["r"], does: "turn by a quarter, counter-clockwise; several about their common middle", run: () => quarter(90) },
    { keys: ["Shift+r"], does: "clockwise", run: () => quarter(-90) },
    { keys: ["Ctrl+d"], does: "copy", run: copy },
    { keys: ["Delete"], does: "take out", run: remove },
  ]],
  ["The view", [
    { keys: arrows("Ctrl+"), does: "push the sheet; where nothing is chosen, the arrows alone do", run: (e) => push(e, PUSH), on: onSheet },
    { keys: ["PageUp", "+"], does: "closer", run: () => sheet.zoom(1.25), on: onSheet },
    { keys: ["PageDown", "-"], does: "farther", run: () => sheet.zoom(0.8), on: onSheet },
    { keys: ["Home", "0"], does: "the whole sheet", run: () => sheet.look(null), on: onSheet },
  ]],
  ["The solids, while they have the focus", [
    { keys: ["1", "2", "3", "4"], does: "seen from the seat, the side, above, ahead" },
    { keys: ARROWS, does: "turn about them; with Shift push them" },
    { keys: ["+", "-", "0"], does: "closer, farther, as at first" },
  ]],
  ["The photograph, while it has the focus", [
    { keys: ARROWS, does: "move the cross, with Shift by ten" },
    { keys: ["Enter"], does: "pick where the cross is" },
    { keys: ["+", "-"], does: "closer, farther" },
  ]],
];

/** What is done without keys. */
const HANDS = [
  ["drag an item", "move it; with Alt, or Free hand, it rests nowhere by itself"],
  ["Shift and a click", "choose an item to those that are chosen, or out of them"],
  ["drag on the bare sheet", "choose what is wholly within the band, with Shift to what is chosen"],
  ["middle button, or space bar held, or Push sheet, and drag", "push the sheet"],
  ["wheel", "closer, farther; with Shift push it sideways"],
  ["a finger on an item", "move it"],
  ["a finger that rests on an item", "choose it to the others; until the bare sheet is tapped each tap adds or takes out, as with Choose several"],
  ["a finger on the bare sheet", "push the sheet; after a rest choose by a band"],
  ["two fingers", "push the sheet, closer and farther"],
];

/** A key as it is written on it. @param {string} key */
const written = (key) => key
  .replace(/Arrow(\w+)/, (_, w) => ({ Left: "←", Right: "→", Up: "↑", Down: "↓" })[/** @type {"Left"} */ (w)])
  .replace("PageUp", "Page Up").replace("PageDown", "Page Down").replace(/(^|\+)([a-z])$/, (_, plus, c) => plus + c.toUpperCase());

/** @param {string} head @param {Key[] | string[][]} rows */
function table(head, rows) {
  const t = document.createElement("table");
  t.createCaption().textContent = head;
  const body = t.createTBody();
  for (const r of rows) {
    const row = body.insertRow();
    const th = document.createElement("th");
    th.scope = "row";
    if (Array.isArray(r)) th.textContent = r[0];
    else {
      r.keys.forEach((k, n) => {
        const key = document.createElement("kbd");
        key.textContent = written(k);
        th.append(n ? " " : "", key);
      });
    }
    row.append(th);
    row.insertCell().textContent = Array.isArray(r) ? r[1] : r.does;
  }
  return t;
}

/** @type {Map<string, Key>} */
const KEYS = new Map(TABLE.flatMap(([, rows]) => rows).filter((k) => k.run).flatMap((k) => k.keys.map((name) => [name, k])));

/** A key with what is held along, as the table names it. @param {KeyboardEvent} e */
function named(e) {
  const one = e.key.length === 1;
  // what a sign needs Shift for differs from keyboard to keyboard
  const shift = e.shiftKey && (!one || /[a-z]/i.test(e.key));
  return `${e.ctrlKey || e.metaKey ? "Ctrl+" : ""}${shift ? "Shift+" : ""}${e.altKey ? "Alt+" : ""}${one ? e.key.toLowerCase() : e.key}`;
}

addEventListener("keydown", (e) => {
  const key = KEYS.get(named(e));
  if (!key?.run) return;
  const typing = e.target instanceof HTMLInputElement || e.target instanceof HTMLSelectElement || e.target instanceof HTMLTextAreaElement;
  if (!key.typing && (typing || document.querySelector("dialog[open]"))) return;
  if (key.on && !key.on(e)) return;
  key.run(e);
  e.preventDefault();
});

button("keys").onclick = help;
button("keys-close").onclick = () => dialog("keys-help").close();
