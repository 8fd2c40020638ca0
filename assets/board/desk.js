// What lies on the desk: the last state that the server told, which items are chosen, what the hand holds.
// @ts-check
import { Findings } from "./findings.js";
import { by, button, input } from "./page.js";
import { Sheet, shape } from "./sheet.js";
import { Wire } from "./wire.js";

/** @typedef {import("./snap.js").Item & { title: string, turn: number, locked: boolean, elsewhere: boolean, together: number | null, x: string, y: string, provision: boolean,
 *   verdict: string, number: number }} Placed */
/** What the hand holds: ids that were taken hold of, where, how far it went, what goes along.
 * @typedef {{ id: string, from: number[], ids: string[], by: number[], moved: boolean, busy: boolean,
 *   next: { by: number[], since: number } | null, n: number, asked: Map<number, number>, last: number[], early: boolean, follow: [string, number[]][],
 *   grab: number, rest: number, revision: number, snaps?: { follow: [string, number[]][], places: import("./snap.js").Snaps } }} Held */

export const wire = new Wire();
export const sheet = new Sheet();
export const findings = new Findings(by("findings"), show);

/** Tells of what is `chosen`, of a `finding` that was chosen (its detail), of a new `state`. */
export const news = new EventTarget();

export const desk = {
  /** @type {any} the last state that the server told */
  state: null,
  /** @type {Map<string, Placed>} */
  items: new Map(),
  /** @type {string[]} */
  chosen: [],
  /** @type {Held | null} */
  held: null,
  /** Tells which buttons say something to what is chosen. */
  ready: () => {},
  /** Whether the state is not shown yet. */
  stale: false,
  /** What is asked again at coordinates where no number says the place. @type {{ run: (plain: boolean) => void, answer: string } | null} */
  drop: null,
  /** Milliseconds from the pointer's handler to that position's findings in the page, the last ones. @type {number[]} */
  waits: [],
};

/** The chosen items. */
export const all = () => desk.chosen.flatMap((id) => desk.items.get(id) ?? []);

/** The item that alone is chosen. */
export const one = () => (desk.chosen.length === 1 ? desk.items.get(desk.chosen[0]) : undefined);

/** An item with those that a hand moves together with it. @param {string} id @returns {string[]} */
export function withIts(id) {
  const own = desk.items.get(id)?.together;
  if (own === undefined || own === null) return [id];
  return [...desk.items.values()].filter((i) => i.together === own).map((i) => i.id);
}

/** Shows a state. @param {any} m */
export function lay(m) {
  desk.stale = false;
  sheet.draw(m.view);
  handles();
  findings.set(m.findings);
  choose(desk.chosen);
  news.dispatchEvent(new Event("state"));
}

/** @param {Placed} i */
const area = (i) => (i.box[2] - i.box[0]) * (i.box[3] - i.box[1]);

/** What can be taken hold of on the sheet. */
function handles() {
  const had = /** @type {SVGElement | null} */ (document.activeElement)?.dataset?.id;
  // small ones over large ones
  const sorted = [...desk.items.values()].sort((a, b) => area(b) - area(a));
  const made = sorted.map((i) => {
    const [x0, y1] = sheet.at([i.box[0], i.box[1]]);
    const [x1, y0] = sheet.at([i.box[2], i.box[3]]);
    const words = `${i.id}, ${i.title}, ${i.x} right, ${i.y} up, ${i.verdict}${i.locked ? ", locked" : ""}${i.provision ? ", provision" : ""}`;
    const e = shape("rect", { class: "item", x: x0, y: y0, width: x1 - x0, height: y1 - y0, "data-id": i.id });
    if (i.held) e.setAttribute("data-held", "");
    else for (const [k, v] of [["role", "button"], ["tabindex", "0"], ["aria-label", words], ["aria-pressed", "false"]]) e.setAttribute(k, v);
    return e;
  });
  const group = by("items");
  group.replaceChildren(...made);
  if (had) /** @type {SVGElement | null} */ (group.querySelector(`[data-id="${CSS.escape(had)}"]`))?.focus();
}

/** @param {string[]} ids */
export function choose(ids) {
  desk.chosen = ids;
  for (const e of by("items").children) {
    if (!e.hasAttribute("data-held")) e.setAttribute("aria-pressed", String(ids.includes(/** @type {SVGElement} */ (e).dataset.id ?? "")));
  }
  const i = one();
  by("chosen").textContent = ids.length ? ids.join(", ") : "none chosen";
  for (const key of /** @type {const} */ (["x", "y", "turn"])) {
    // several are turned on, by as much as is typed
    input(key).disabled = key === "turn" ? !ids.length || !!i?.label : !i;
    input(key).value = i ? String(i[key]) : "";
  }
  by("turn-head").textContent = ids.length > 1 ? "Turn by, degrees" : "Turn, degrees";
  button("place").textContent = ids.length > 1 ? "Turn by it" : "Place";
  button("place").disabled = !ids.length;
  button("turn-left").disabled = !ids.length || !!i?.label;
  button("behind").disabled = !i;
  desk.ready();
  findings.only = input("only").checked && ids.length ? ids : null;
  findings.draw();
  sheet.arrows(ids.length ? findings.nearest(ids) : []);
  news.dispatchEvent(new Event("chosen"));
}

/** Shows a finding on the sheet. @param {import("./findings.js").Finding} f */
function show(f) {
  findings.current = f.id;
  choose(f.subjects.filter((s) => desk.items.has(s)).slice(0, 1));
  sheet.arrows([{ ...f, words: f.words ?? f.verdict, "asked-words": f["asked-words"] ?? f.asks }]);
  news.dispatchEvent(new CustomEvent("finding", { detail: f }));
}

/** How many of each verdict, in the head. @param {{ fail: number, withheld: number, tight: number, pass: number }} c @param {string} [more] */
export function count(c, more = "") {
  by("counts").textContent = `${c.fail} fail, ${c.withheld} withheld, ${c.tight} tight, ${c.pass} pass${more}`;
}
