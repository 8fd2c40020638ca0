// Items under the hand: taken hold of, carried with what follows them, let go; and the paper pushed and drawn nearer.
// @ts-check
import { choose, count, desk, findings, lay, one, sheet, wire, withIts } from "./desk.js";
import { by, input } from "./page.js";
import { Snaps } from "./snap.js";

const over = sheet.over;
let grabs = 0;
/** Counts the places that were asked about, of all holds. */
let places = 0;
/** @type {Map<number, number[]>} */
const fingers = new Map();
/** How long the hand must be still before all that the steps left out is asked, ms. */
const STILL = 120;

over.addEventListener("pointerdown", (e) => {
  fingers.set(e.pointerId, [e.clientX, e.clientY]);
  over.setPointerCapture(e.pointerId);
  const id = e.button === 0 ? /** @type {SVGElement} */ (e.target).dataset?.id : undefined;
  const item = id ? desk.items.get(id) : undefined;
  if (!item || !id || fingers.size > 1) {
    if (e.button === 0 && !e.shiftKey && !id) choose([]);
    letGo();
    return;
  }
  /** @type {SVGElement} */ (e.target).focus();
  const { chosen } = desk;
  const own = withIts(id);
  if (e.shiftKey) return choose(chosen.includes(id) ? chosen.filter((c) => !own.includes(c)) : [...new Set([...chosen, ...own])]);
  const again = chosen.includes(id);
  if (!again) choose(own);
  if (item.locked) return;
  grab(id, sheet.panel(e.clientX, e.clientY), again);
});

/** @param {string} id @param {number[]} from @param {boolean} again whether it was chosen already */
function grab(id, from, again) {
  const ids = desk.chosen;
  desk.held = {
    id, from, ids, again, by: [0, 0], moved: false, busy: false, next: null, n: 0, asked: new Map(),
    follow: ids.map((i) => [i, [1, 0, 0, 1]]),
    grab: ++grabs,
    rest: 0,
  };
  wire.ask({ do: "grab", ids, n: grabs, revision: desk.state.revision });
  wire.ask({ do: "region", n: grabs });
}

over.addEventListener("pointermove", (e) => {
  const since = performance.now();
  const last = fingers.get(e.pointerId);
  if (!last) return;
  const { held, items } = desk;
  if (!held) return panOrPinch(e, last);
  const p = sheet.panel(e.clientX, e.clientY);
  const raw = [p[0] - held.from[0], p[1] - held.from[1]];
  if (!held.moved && Math.hypot(raw[0], raw[1]) < (3 * sheet.pixel()) / sheet.scale) return;
  held.moved = true;
  document.documentElement.dataset.holding = "";
  const item = items.get(held.id);
  if (!item) return;
  const reach = e.altKey ? 0 : (7 * sheet.pixel()) / sheet.scale;
  const rests = e.altKey
    ? raw.map((r) => /** @type {import("./snap.js").Rest} */ ({ by: Math.round(r * 100) / 100, kind: "", line: null, gaps: [], words: "" }))
    : snaps(held, item).at(raw, reach, { mm: grid(), words: gridWords() });
  carry(held, rests.map((r) => r.by));
  sheet.snaps(rests, item.at.map((v, k) => v + rests[k].by));
  say(held, held.by, since);
});

/** Where an item can come to rest; looked up once for what is held with all that follows it. @param {import("./desk.js").Held} held @param {import("./snap.js").Item} item */
function snaps(held, item) {
  if (held.snaps?.follow !== held.follow) {
    const moving = new Set(held.follow.map((f) => f[0]));
    const others = [...desk.items.values()].filter((i) => !moving.has(i.id));
    held.snaps = { follow: held.follow, places: new Snaps(item, others, desk.state.olds, desk.state.sheet) };
  }
  return held.snaps.places;
}

/** @param {PointerEvent} e @param {number[]} last */
function panOrPinch(e, last) {
  const other = [...fingers].find(([id]) => id !== e.pointerId)?.[1];
  if (other) {
    const was = Math.hypot(last[0] - other[0], last[1] - other[1]);
    const now = Math.hypot(e.clientX - other[0], e.clientY - other[1]);
    if (was > 10) sheet.zoom(now / was, other[0], other[1]);
  } else sheet.pan(e.clientX - last[0], e.clientY - last[1]);
  fingers.set(e.pointerId, [e.clientX, e.clientY]);
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
  if (held.busy) {
    held.next = { by: b, since };
    return;
  }
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
  if (desk.held?.grab === m.n) sheet.region(m.path);
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
  findings.draw();
  count(m.counts, open);
  sheet.arrows(findings.nearest(desk.chosen));
  const since = held.asked.get(m.n);
  if (since === undefined) return;
  desk.waits.push(performance.now() - since);
  if (desk.waits.length > 5000) desk.waits.shift();
  held.asked.delete(m.n);
  held.busy = false;
  if (held.next) say(held, held.next.by, held.next.since);
});

/** @param {PointerEvent} e */
function up(e) {
  fingers.delete(e.pointerId);
  const { held } = desk;
  if (!held) return;
  if (!held.moved || e.type === "pointercancel") {
    letGo();
    // a click on one of several that were chosen chooses it alone, out of those that go together too
    if (!held.moved && held.again && e.type === "pointerup") choose([held.id]);
    return;
  }
  const { ids, by: b } = held;
  letGo();
  drop((plain) => wire.ask({ do: "move", ids, by: b, plain }));
}
over.addEventListener("pointerup", up);
over.addEventListener("pointercancel", up);

/** Does something that may have to be said by coordinates; then it is asked. @param {(plain: boolean) => void} run */
export function drop(run) {
  desk.drop = run;
  run(false);
}

/** What was carried is drawn anew by the next state, or goes back. */
export function letGo() {
  const { held } = desk;
  if (held) {
    clearTimeout(held.rest);
    wire.ask({ do: "let-go" });
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

over.addEventListener("wheel", (e) => {
  e.preventDefault();
  if (e.shiftKey) sheet.pan(-e.deltaY, 0);
  else sheet.zoom(Math.exp(-e.deltaY / 600), e.clientX, e.clientY);
}, { passive: false });

/** Step of the keys and of the grid, mm. */
export const grid = () => Number(/** @type {HTMLSelectElement} */ (by("grid")).value);
const gridWords = () => /** @type {HTMLSelectElement} */ (by("grid")).selectedOptions[0]?.text ?? "";
