// Items under the hand: taken hold of, carried with what follows them, let go.
// @ts-check
import { count, desk, findings, lay, one, sheet, wire } from "./desk.js";
import { by, input } from "./page.js";
import { Snaps } from "./snap.js";

let grabs = 0;
/** Counts the places that were asked about, of all holds. */
let places = 0;
/** How long the hand must be still before all that the steps left out is asked, ms. */
const STILL = 120;

/** Takes hold of an item with all that is chosen. @param {string} id @param {number[]} from where on the panel, mm */
export function grab(id, from) {
  const ids = desk.chosen;
  desk.held = {
    id, from, ids, by: [0, 0], moved: false, busy: false, next: null, n: 0, asked: new Map(), last: [0, 0], early: false,
    follow: ids.map((i) => [i, [1, 0, 0, 1]]),
    grab: ++grabs,
    rest: 0,
    revision: desk.state.revision,
  };
  wire.ask({ do: "grab", ids, n: grabs, revision: desk.state.revision });
  wire.ask({ do: "region", n: grabs });
}

/** Asks for the findings where the pointer is as soon as it is known, once between two pictures: they are mostly there when the
 * page draws the item at that place. @param {number} x of the window @param {number} y @param {boolean} free to no place of its own */
export function early(x, y, free) {
  const since = performance.now();
  const { held } = desk;
  if (!held?.moved || held.busy || held.early) return;
  held.early = true;
  const rests = to(held, x, y, free);
  if (rests) say(held, rests.map((r) => r.by), since);
}

/** Carries what is held to where the pointer is. @param {number} x of the window @param {number} y @param {boolean} free to no place of its own */
export function move(x, y, free) {
  const since = performance.now();
  const { held } = desk;
  if (!held) return;
  held.moved = true;
  held.early = false;
  document.documentElement.dataset.holding = "";
  const item = desk.items.get(held.id);
  const rests = to(held, x, y, free);
  if (!item || !rests) return;
  const b = rests.map((r) => r.by);
  // asked first: the rules work while the page draws
  say(held, b, since);
  carry(held, b);
  sheet.snaps(rests, item.at.map((v, k) => v + b[k]));
}

/** Where what is held comes to rest with the pointer there. @param {import("./desk.js").Held} held @param {number} x of the window @param {number} y
 * @param {boolean} free */
function to(held, x, y, free) {
  const p = sheet.panel(x, y);
  const raw = [p[0] - held.from[0], p[1] - held.from[1]];
  const item = desk.items.get(held.id);
  if (!item) return null;
  const reach = (7 * sheet.pixel()) / sheet.scale;
  return free
    ? raw.map((r) => /** @type {import("./snap.js").Rest} */ ({ by: Math.round(r * 100) / 100, kind: "", line: null, gaps: [], words: "" }))
    : snaps(held, item).at(raw, reach, { mm: grid(), words: gridWords() });
}

/** Where an item can come to rest; looked up once for what is held with all that follows it. @param {import("./desk.js").Held} held @param {import("./snap.js").Item} item */
function snaps(held, item) {
  if (held.snaps?.follow !== held.follow) {
    const moving = new Set(held.follow.map((f) => f[0]));
    const others = [...desk.items.values()].filter((i) => !moving.has(i.id));
    const boxes = held.ids.flatMap((id) => desk.items.get(id)?.box ?? [...item.box]);
    const side = (/** @type {number} */ k) => boxes.filter((_, n) => n % 4 === k);
    const box = [Math.min(...side(0)), Math.min(...side(1)), Math.max(...side(2)), Math.max(...side(3))];
    const all = { ...item, box };
    held.snaps = { follow: held.follow, places: new Snaps(all, held.ids.length > 1, others, desk.state.olds, desk.state.sheet) };
  }
  return held.snaps.places;
}

/** @param {import("./desk.js").Held} held @param {number[]} b */
function carry(held, b) {
  held.by = b;
  for (const [id, [xx, xy, yx, yy]] of held.follow) sheet.carry(id, [xx * b[0] + yx * b[1], xy * b[0] + yy * b[1]]);
  const item = one();
  if (!item) return;
  const inch = desk.state.unit === "in";
  ["x", "y"].forEach((key, k) => {
    const v = item.at[k] + b[k];
    input(key).value = inch ? `${(v / 25.4).toFixed(4)} in` : `${v.toFixed(2)} mm`;
  });
}

/** Asks for the findings at a place; one question at a time, the newest next. @param {import("./desk.js").Held} held @param {number[]} b @param {number} since */
function say(held, b, since) {
  if (held.n && b.every((v, k) => v === held.last[k])) return;
  held.last = b;
  if (held.busy) {
    held.next = { by: b, since };
    return;
  }
  ask(held, b, since);
}

/** @param {import("./desk.js").Held} held @param {number[]} b @param {number} since */
function ask(held, b, since) {
  held.busy = true;
  held.next = null;
  held.n = ++places;
  held.asked.set(held.n, since);
  wire.ask({ do: "drag", by: b, n: held.n, grab: held.grab });
  // what a step leaves out is asked when the hand is still
  clearTimeout(held.rest);
  held.rest = window.setTimeout(() => wire.ask({ do: "rest", n: held.n, grab: held.grab }), STILL);
}

wire.on.set("grab", (m) => {
  const { held } = desk;
  if (!held || held.grab !== m.n) return;
  held.follow = m.follow;
  // what counts as moved by that is told in full
  findings.differ(m.findings, [], m.gone);
  findings.draw();
});
wire.on.set("region", (m) => {
  const { held } = desk;
  if (!held || held.grab !== m.n) return;
  sheet.region(m.path);
  // without a path nobody asked, as others come along
  if (m.path === "") by("did").textContent = `${held.id} fits nowhere on its sheet as it is turned.`;
});
wire.on.set("drag", (m) => {
  const { held } = desk;
  // of an earlier hold
  if (!held || m.grab !== held.grab) return;
  // each answer tells what differs from the one before: none may be left out
  findings.differ(m.findings, m.again, m.gone);
  // of a place that the hand left meanwhile: what is said of the next one is on its way
  if (m.n !== held.n) return;
  const open = m.open.length ? `; ${m.open.length} rule${m.open.length === 1 ? "" : "s"} still checking` : "";
  findings.wait(m.open, held.follow.map((f) => f[0]));
  findings.draw(m.open.length > 0);
  count(m.counts, open);
  sheet.arrows(findings.nearest(desk.chosen));
  const since = held.asked.get(m.n);
  if (since === undefined) return;
  desk.waits.push(performance.now() - since);
  if (desk.waits.length > 5000) desk.waits.shift();
  held.asked.delete(m.n);
  held.busy = false;
  if (held.next) ask(held, held.next.by, held.next.since);
});

/** Lets go of what is held where it is, or, with `fine` false, has it go back. @param {boolean} fine */
export function release(fine) {
  const { held } = desk;
  if (!held) return;
  const { ids, by: b, moved, revision } = held;
  letGo();
  if (moved && fine) drop((plain) => wire.ask({ do: "move", ids, by: b, plain, revision }));
}

/** Does something that may have to be said by coordinates; then it is asked. @param {(plain: boolean) => void} run @param {string} [answer] what is then agreed to */
export function drop(run, answer = "Put at coordinates") {
  desk.drop = { run, answer };
  run(false);
}

/** What was carried is drawn anew by the next state, or goes back. */
export function letGo() {
  const { held } = desk;
  if (held) {
    clearTimeout(held.rest);
    wire.ask({ do: "let-go" });
    by("did").textContent = "";
    for (const [id] of held.follow) sheet.carry(id, null);
    findings.back();
    count(desk.state.counts);
  }
  desk.held = null;
  if (desk.stale) lay(desk.state);
  delete document.documentElement.dataset.holding;
  sheet.region(null);
  sheet.snaps([]);
}

/** Step of the keys and of the grid, mm. */
export const grid = () => Number(/** @type {HTMLSelectElement} */ (by("grid")).value);
const gridWords = () => /** @type {HTMLSelectElement} */ (by("grid")).selectedOptions[0]?.text ?? "";
