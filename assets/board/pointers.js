// What a mouse or fingers do on the sheet: take hold of an item, choose several by a band, push the sheet, draw it nearer.
// @ts-check
import { choose, desk, sheet, withIts } from "./desk.js";
import { early, grab, letGo, move, release } from "./hold.js";
import { button, by } from "./page.js";
import { shape } from "./sheet.js";

const over = sheet.over;
/** How long a finger rests before it means more than a tap, ms. */
const LONG = 500;
/** How far a pointer goes before it is a drag, pixels; a finger is broad. */
const slack = (/** @type {boolean} */ touch) => (touch ? 8 : 3);
/** How far beside a small item a finger still meets it, pixels. */
const MEETS = 12;

/** Where each pointer that is down is. @type {Map<number, number[]>} */
const down = new Map();
/** What the one pointer that is down does: `again`: its item was chosen already; `shift`: to what is chosen; `before`: what was.
 * @typedef {{ pointer: number, touch: boolean, from: number[], start: number[], does: "hold" | "band" | "pan", id: string | undefined, again: boolean,
 *   shift: boolean, bare: boolean, before: string[], moved: boolean, long: boolean, timer: number }} Press */
/** @type {Press | null} */
let press = null;
/** Whether the space bar is held, and whether the sheet was pushed meanwhile. */
const space = { held: false, used: false };

const is = (/** @type {string} */ id) => button(id).getAttribute("aria-pressed") === "true";
/** @param {string} id @param {boolean} on */
const turn = (id, on) => button(id).setAttribute("aria-pressed", String(on));
for (const id of ["several", "push", "free"]) button(id).onclick = () => turn(id, !is(id));

/** A small item near a finger. @param {number} x @param {number} y */
function near(x, y) {
  /** @type {string | undefined} */
  let best;
  let least = MEETS;
  for (const e of /** @type {NodeListOf<SVGElement>} */ (over.querySelectorAll(".item:not([data-held])"))) {
    const r = e.getBoundingClientRect();
    const d = Math.hypot(Math.max(r.left - x, x - r.right, 0), Math.max(r.top - y, y - r.bottom, 0));
    if (d <= least) [best, least] = [e.dataset.id, d];
  }
  return best;
}

over.addEventListener("pointerdown", (e) => {
  down.set(e.pointerId, [e.clientX, e.clientY]);
  over.setPointerCapture(e.pointerId);
  if (down.size > 1) return giveUp();
  const touch = e.pointerType === "touch";
  const pushes = e.button === 1 || space.held || is("push");
  if (e.button > 1 || (e.button === 1 && touch)) return;
  // a middle button would have the page scroll by itself
  if (e.button === 1) e.preventDefault();
  space.used ||= space.held;
  const id = pushes ? undefined : /** @type {SVGElement} */ (e.target).dataset?.id ?? (touch ? near(e.clientX, e.clientY) : undefined);
  const item = id ? desk.items.get(id) : undefined;
  press = {
    pointer: e.pointerId, touch, from: [e.clientX, e.clientY], start: sheet.panel(e.clientX, e.clientY), id: item && id,
    does: item ? "hold" : pushes || touch ? "pan" : "band", again: !!id && desk.chosen.includes(id), shift: e.shiftKey, bare: !item && !pushes,
    before: desk.chosen, moved: false, long: false, timer: touch && !pushes ? window.setTimeout(rests, LONG) : 0,
  };
  if (item && id) take(press, id);
});

/** @param {Press} p @param {string} id */
function take(p, id) {
  const own = withIts(id);
  /** @type {SVGElement | null} */ (over.querySelector(`.item[data-id="${CSS.escape(id)}"]`))?.focus();
  if (p.shift) return choose(p.again ? p.before.filter((c) => !own.includes(c)) : [...new Set([...p.before, ...own])]);
  if (!p.again) choose(is("several") ? [...new Set([...p.before, ...own])] : own);
  if (stands(id)) return;
  grab(id, p.start);
}

/** Whether an item is not to be moved here: locked, or of a floating panel with a file of its own. @param {string} id */
function stands(id) {
  const item = desk.items.get(id);
  return item?.locked || item?.elsewhere;
}

/** A finger rests: on an item, which is chosen to the others from now on, or on the bare sheet, where a band begins. */
function rests() {
  const p = press;
  if (!p || p.moved) return;
  p.long = true;
  if (!p.id) {
    p.does = "band";
    band(p, p.from);
    return;
  }
  letGo();
  const own = withIts(p.id);
  const out = is("several") && p.again;
  choose(out ? p.before.filter((c) => !own.includes(c)) : [...new Set([...p.before, ...own])]);
  turn("several", true);
  if (!out && !stands(p.id)) grab(p.id, p.start);
}

over.addEventListener("pointermove", (e) => {
  const last = down.get(e.pointerId);
  if (!last) return;
  const now = [e.clientX, e.clientY];
  down.set(e.pointerId, now);
  if (down.size > 1) return pinch(e.pointerId, last, now);
  const p = press;
  if (!p) return;
  if (!p.moved && Math.hypot(now[0] - p.from[0], now[1] - p.from[1]) < slack(p.touch)) return;
  // what is not to be moved is taken hold of only to be told why not
  if (!p.moved && p.does === "hold" && p.id && !p.shift && stands(p.id)) grab(p.id, p.start);
  p.moved = true;
  clearTimeout(p.timer);
  if (p.does === "hold") move(now[0], now[1], e.altKey || is("free"));
  else if (p.does === "band") band(p, now);
  else sheet.pan(now[0] - last[0], now[1] - last[1]);
});

// comes before the page draws its next picture, where the browser tells it
over.addEventListener("pointerrawupdate", (e) => {
  const p = press;
  const at = /** @type {PointerEvent} */ (e);
  if (p?.does === "hold" && p.moved && p.pointer === at.pointerId && down.size === 1) early(at.clientX, at.clientY, at.altKey || is("free"));
});

/** Two fingers push the sheet with their middle and draw it nearer. @param {number} id @param {number[]} last @param {number[]} now */
function pinch(id, last, now) {
  const other = [...down].find(([p]) => p !== id)?.[1];
  if (!other) return;
  const was = Math.hypot(last[0] - other[0], last[1] - other[1]);
  const far = Math.hypot(now[0] - other[0], now[1] - other[1]);
  const middle = [0, 1].map((k) => (last[k] + other[k]) / 2);
  sheet.zoom(was > 10 ? far / was : 1, middle[0], middle[1], [(now[0] - last[0]) / 2, (now[1] - last[1]) / 2]);
}

/** What one pointer had begun is given up, as a second one came: all is as it was. */
function giveUp() {
  const p = press;
  press = null;
  if (!p) return;
  clearTimeout(p.timer);
  if (p.does === "hold") letGo();
  if (p.does === "hold" && desk.chosen !== p.before) choose(p.before);
  bandGone();
}

/** The band from where it began to where the pointer is, and which items are wholly in it. @param {Press} p @param {number[]} to */
function band(p, to) {
  const end = sheet.panel(to[0], to[1]);
  const box = [Math.min(p.start[0], end[0]), Math.min(p.start[1], end[1]), Math.max(p.start[0], end[0]), Math.max(p.start[1], end[1])];
  const [x0, y1] = sheet.at([box[0], box[1]]);
  const [x1, y0] = sheet.at([box[2], box[3]]);
  by("band").replaceChildren(shape("rect", { x: x0, y: y0, width: x1 - x0, height: y1 - y0 }));
  // what is locked, or stands on a floating panel, goes nowhere, so it is not chosen along with what is to
  const within = [...desk.items.values()].filter((i) => !i.held && !i.locked && !i.elsewhere && i.box[0] >= box[0] && i.box[1] >= box[1] && i.box[2] <= box[2] && i.box[3] <= box[3]);
  const ids = new Set(within.map((i) => i.id));
  for (const e of by("items").children) e.toggleAttribute("data-band", ids.has(/** @type {SVGElement} */ (e).dataset.id ?? ""));
  return [...new Set(within.flatMap((i) => withIts(i.id)))];
}

function bandGone() {
  by("band").replaceChildren();
  for (const e of by("items").children) e.removeAttribute("data-band");
}

/** @param {PointerEvent} e */
function up(e) {
  down.delete(e.pointerId);
  const p = press;
  if (!p || p.pointer !== e.pointerId) return;
  press = null;
  clearTimeout(p.timer);
  const fine = e.type === "pointerup";
  const adds = p.shift || is("several");
  if (p.does === "hold") {
    release(fine);
    if (p.id && p.again && !p.moved && !p.long && !p.shift && fine) {
      // a tap on one of several that were chosen: out of them, or chosen alone, out of those that go together too
      const own = withIts(p.id);
      choose(is("several") ? p.before.filter((c) => !own.includes(c)) : [p.id]);
    }
  } else if (p.does === "band" && p.moved) {
    const met = band(p, [e.clientX, e.clientY]);
    if (fine) choose(adds ? [...new Set([...p.before, ...met])] : met);
  } else if (p.bare && !p.moved && !p.long && fine && !p.shift) {
    turn("several", false);
    choose([]);
  }
  bandGone();
}
over.addEventListener("pointerup", up);
over.addEventListener("pointercancel", up);
// a finger that rests asks for no list of the browser's
over.addEventListener("contextmenu", (e) => {
  if (down.size || /** @type {PointerEvent} */ (e).pointerType === "touch") e.preventDefault();
});

over.addEventListener("wheel", (e) => {
  e.preventDefault();
  const [dx, dy] = [e.deltaX, e.deltaY].map((d) => d * (e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1));
  if (e.shiftKey) sheet.pan(-(dy || dx), 0);
  else if (Math.abs(dx) > Math.abs(dy)) sheet.pan(-dx, 0);
  // two fingers on a pad come as a wheel with Ctrl, in small steps
  else sheet.zoom(Math.exp(-dy / (e.ctrlKey ? 100 : 600)), e.clientX, e.clientY);
}, { passive: false });

// the space bar held turns a drag into a push; let go without one it chooses the item that has the focus
addEventListener("keydown", (e) => {
  if (e.key !== " " || e.ctrlKey || e.metaKey || e.altKey || document.querySelector("dialog[open]")) return;
  if (e.target instanceof HTMLElement && e.target !== document.body) return;
  e.preventDefault();
  if (!e.repeat) Object.assign(space, { held: true, used: false });
  over.toggleAttribute("data-push", true);
});
addEventListener("keyup", (e) => {
  if (e.key !== " " || !space.held) return;
  space.held = false;
  over.toggleAttribute("data-push", false);
  const id = e.target instanceof SVGElement ? e.target.dataset.id : undefined;
  if (id && !space.used) choose(e.shiftKey ? [...new Set([...desk.chosen, ...withIts(id)])] : withIts(id));
});
addEventListener("blur", () => {
  space.held = false;
  over.toggleAttribute("data-push", false);
});
