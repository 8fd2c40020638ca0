// What a mirror image and a turn of several items are about: said on the button, drawn on the sheet before it is done, told once it is.
// @ts-check
import { all, desk, news, sheet, wire } from "./desk.js";
import { button, by } from "./page.js";
import { shape } from "./sheet.js";

/** The upright line through the sheet's middle, mm. */
export const centreLine = () => (desk.state.sheet[0] + desk.state.sheet[2]) / 2;

/** The middle of what the chosen items cover, mm. */
export function middle() {
  const boxes = all().map((i) => i.box);
  return [0, 1].map((k) => (Math.min(...boxes.map((b) => b[k])) + Math.max(...boxes.map((b) => b[k + 2]))) / 2);
}

/** @param {number} mm */
const length = (mm) => (desk.state.unit === "in" ? `${(mm / 25.4).toFixed(3)} in` : `${Math.round(mm * 100) / 100} mm`);
/** @param {number} x */
const line = (x) => `x ${length(x)}${Math.abs(x - centreLine()) < 1e-6 ? ", the sheet's centre line" : ""}`;

/** Which button is about what: an upright line, or a point. @type {Record<string, () => (number | null)[]>} */
const ABOUT = { mirror: () => [centreLine(), null], swap: () => [middle()[0], null], "turn-left": () => middle(), turn: () => middle() };

/** Draws what something is about, or nothing. @param {(number | null)[] | null} about @param {string} [words] */
function draw(about, words = "") {
  const px = sheet.pixel();
  const [left, top, , tall] = sheet.seen ?? [0, 0, ...sheet.size];
  /** @type {Element[]} */
  const shapes = [];
  if (about) {
    const [x, y] = sheet.at([about[0] ?? 0, about[1] ?? 0]);
    const t = shape("text", { x: Math.max(x + 8 * px, left), y: about[1] === null ? top + 60 * px : y - 8 * px });
    t.textContent = words;
    if (about[1] === null) shapes.push(shape("line", { x1: x, x2: x, y1: top - tall, y2: top + 2 * tall }), t);
    else {
      const r = 16 * px;
      shapes.push(shape("line", { x1: x - r, x2: x + r, y1: y, y2: y }), shape("line", { x1: x, x2: x, y1: y - r, y2: y + r }), t);
    }
  }
  by("guide").replaceChildren(...shapes);
  sheet.letters(by("guide"));
}

for (const [id, about] of Object.entries(ABOUT)) {
  const e = by(id);
  const show = () => {
    const several = desk.chosen.length > 1 || id === "mirror";
    const place = all().length && several ? about() : null;
    draw(place, !place ? "" : place[1] === null ? `mirrored about ${line(place[0] ?? 0)}` : "turned about here");
  };
  for (const name of ["pointerenter", "focus"]) e.addEventListener(name, show);
  for (const name of ["pointerleave", "blur", "click"]) e.addEventListener(name, () => draw(null));
}

/** Says on the buttons what they would do to what is chosen. */
export function says() {
  for (const id of ["mirror", "swap"]) {
    const does = button(id).disabled ? "" : `about ${line(ABOUT[id]()[0] ?? 0)}; each instrument stays as it is, none is mirrored itself`;
    by(`${id}-says`).textContent = does;
  }
}

/** What was done and is told with the state that comes of it. @type {any} */
let done = null;
wire.on.set("did", (m) => {
  done = m;
});
news.addEventListener("state", () => {
  const m = done;
  done = null;
  let words = "";
  if (m) {
    const names = m.ids.length > 4 ? `${m.ids.length} items` : m.ids.join(", ");
    const [x, y] = m.about;
    words = y === null
      ? `Places of ${names} mirrored about ${line(x)}; the instruments themselves are not mirrored.`
      : `${names} turned by ${m.turned}° about ${length(x)} right, ${length(y)} up.${m.ids.some((/** @type {string} */ id) => desk.items.get(id)?.label) ? " Labels stay upright." : ""}`;
  }
  by("did").textContent = words;
  draw(m ? m.about : null);
});
addEventListener("pointerdown", () => {
  if (!by("did").textContent) return;
  by("did").textContent = "";
  draw(null);
});
