// The shelf: what there is to add from the catalogue, drawn to one scale, and whether it still fits. The answers come one by
// one; the hand need not wait for them.
// @ts-check
import { desk, findings, wire } from "./desk.js";
import { button, by, dialog, input, notice } from "./page.js";
import { shape } from "./sheet.js";

/** @typedef {{ name: string, title: string, kind: string, words: string[], sizes: string | null,
 *   drawn: { face: string, behind: string, cut: string, box: number[] } | null }} Thing */
/** @typedef {{ group: number, word: string, says: string, at: number[] | null }} Fit */

/** Pixels of a millimetre in the drawings: the widest display and the smallest screw are both still seen. */
const PIXELS = 0.6;
/** Rows that are shown; what is looked for by words is among the first of few. */
const MOST = 300;

/** @type {Thing[]} */
let shelf = [];
/** What was told of the panel as it stood at this revision. @type {Map<string, Fit>} */
let known = new Map();
let revision = 0;
let asked = "";

export function open() {
  if (!shelf.length) wire.ask({ do: "catalogue" });
  dialog("shelf").showModal();
  input("look").focus();
  shelve();
  question();
}
button("add").onclick = open;
button("shelf-close").onclick = () => dialog("shelf").close();
dialog("shelf").addEventListener("close", () => {
  asked = "";
  wire.ask({ do: "shelf-closed" });
});
input("look").oninput = () => {
  shelve();
  question();
};

wire.on.set("catalogue", (m) => {
  shelf = m.all;
  by("shelf-unread").textContent = m.unread.length ? `Not read: ${m.unread.join("; ")}` : "";
  shelve();
  question();
});
wire.on.set("fits", (m) => {
  if (m.revision !== desk.state.revision) return;
  known.set(m.name, m);
  told();
  later();
});
wire.on.set("fits-all", (m) => {
  if (m.revision === desk.state.revision) question();
});
wire.on.set("added", (m) => {
  desk.chosen = [m.id];
  findings.current = null;
});
/** Asks what fits of all that is not known yet, what is looked for first. */
function question() {
  if (!dialog("shelf").open || !shelf.length) return;
  if (revision !== desk.state.revision) {
    known = new Map();
    revision = desk.state.revision;
    shelve();
  }
  const first = new Set(hits().map((i) => i.name));
  const names = [...first, ...shelf.map((i) => i.name).filter((n) => !first.has(n))].filter((n) => !known.has(n));
  const key = `${revision} ${names.join(" ")}`;
  if (key === asked) return;
  asked = key;
  // a message has its length: what is left over is asked when the others are told
  if (names.length) wire.ask({ do: "fits", names: names.slice(0, 800) });
  told();
}

/** How many are told, in a line that is read aloud when all are. */
function told() {
  const n = shelf.filter((i) => known.has(i.name)).length;
  const fit = shelf.filter((i) => known.get(i.name)?.group === 0).length;
  const room = shelf.filter((i) => known.get(i.name)?.group === 1).length;
  const all = `${fit} fit, ${room} have room but something of them is not known.`;
  by("shelf-told").textContent = n < shelf.length ? `Asking the rules: ${n} of ${shelf.length} so far.` : all;
  by("shelf-told").setAttribute("aria-live", n < shelf.length ? "off" : "polite");
}

let soon = 0;
/** Rows are sorted anew a few times a second at the most, and not under a pointer or the keyboard's focus. */
function later() {
  if (soon) return;
  soon = window.setTimeout(() => {
    soon = 0;
    shelve();
  }, 400);
}

/** What is looked for. */
function hits() {
  const words = input("look").value.toLowerCase().split(/\s+/).filter(Boolean);
  return shelf.filter((i) => words.every((w) => `${i.name} ${i.title} ${i.kind} ${i.words.join(" ")}`.toLowerCase().includes(w)));
}

function shelve() {
  const list = by("shelf-list");
  // not known yet: after what fits, before what does not
  const group = (/** @type {Thing} */ i) => known.get(i.name)?.group ?? 2.5;
  const sorted = hits().sort((a, b) => group(a) - group(b) || (a.title < b.title ? -1 : a.title > b.title ? 1 : a.name < b.name ? -1 : 1));
  const had = /** @type {HTMLElement | null} */ (document.activeElement)?.dataset?.name;
  const old = new Map([...list.children].map((r) => [/** @type {HTMLElement} */ (r.firstElementChild).dataset.name ?? "", r]));
  const rows = sorted.slice(0, MOST).map((i) => {
    const r = old.get(i.name) ?? row(i);
    const fit = known.get(i.name);
    const says = /** @type {HTMLElement} */ (r.querySelector(".fit"));
    const words = fit ? [fit.word, fit.says].filter(Boolean).join(": ") : "still asking whether it fits";
    if (says.textContent !== words) says.textContent = words;
    says.dataset.group = String(fit?.group ?? "");
    return r;
  });
  // the order under somebody's finger or eyes stays where it is the same
  if (rows.length !== list.children.length || rows.some((r, k) => r !== list.children[k])) {
    const top = list.scrollTop;
    list.replaceChildren(...rows);
    list.scrollTop = top;
    if (had) /** @type {HTMLElement | null} */ (list.querySelector(`[data-name="${CSS.escape(had)}"]`))?.focus();
  }
}

/** @param {Thing} i */
function row(i) {
  const r = document.createElement("li");
  const b = document.createElement("button");
  b.dataset.name = i.name;
  const words = document.createElement("span");
  words.className = "what";
  const title = document.createElement("strong");
  title.textContent = i.title;
  const fit = document.createElement("span");
  fit.className = "fit";
  const small = document.createElement("small");
  small.textContent = i.sizes ? `${i.name}; ${i.sizes}` : i.name;
  words.append(title, fit, small);
  b.append(drawn(i), words);
  b.onclick = () => {
    const at = known.get(i.name)?.at ?? null;
    dialog("shelf").close();
    if (!at) notice(`Looking for the place with most room for ${i.title} …`, []);
    wire.ask({ do: "add", instrument: i.name, at, revision });
  };
  r.append(b);
  return r;
}

/** The outline: bezel heavy, cutout and holes thin, what lies behind in broken lines. @param {Thing} i */
function drawn(i) {
  const s = shape("svg", { class: "outline", "aria-hidden": "true" });
  if (!i.drawn) return s;
  const [x0, y0, x1, y1] = i.drawn.box.map((v, k) => v + (k < 2 ? -2 : 2));
  for (const [k, v] of [["viewBox", `${x0} ${-y1} ${x1 - x0} ${y1 - y0}`], ["width", (x1 - x0) * PIXELS], ["height", (y1 - y0) * PIXELS]]) s.setAttribute(String(k), String(v));
  const up = shape("g", { transform: "scale(1 -1)" });
  for (const kind of /** @type {const} */ (["behind", "face", "cut"])) if (i.drawn[kind]) up.append(shape("path", { class: kind, d: i.drawn[kind] }));
  s.append(up);
  return s;
}

/** A panel has come: the bar says its unit, and what was told of another one is asked anew. @param {string} unit */
export function follow(unit) {
  const [mm, words] = unit === "in" ? [50.8, "2 in"] : [50, "50 mm"];
  by("shelf-bar").style.width = `${mm * PIXELS}px`;
  by("shelf-scale").textContent = `All drawings to one scale; this bar is ${words}. Heavy: bezel; thin: cutout and holes; broken: flange behind.`;
  question();
}
