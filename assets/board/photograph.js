// The view "Photograph": a picture from the panel's folder, what is picked in it, what the adjustment says of every pick. The
// server owns the survey, its undo and its journal; this page shows them.
// @ts-check
import { wire } from "./desk.js";
import { ask, button, by, dialog, input } from "./page.js";
import * as list from "./photo-list.js";
import { Picture, arrow, star } from "./photo-picture.js";
import { shape } from "./sheet.js";

export const view = {
  /** @type {any} the last state that the server told */
  state: null,
  chosen: "",
  /** @type {Picture | null} */
  picture: null,
  /** How many times longer than the residuals the arrows are. */
  factor: 1,
};

/** What was asked and is not answered yet, in order. However slow the program is, nothing of it is lost: what did not go out
 * goes when the program answers again. @type {{ m: any, sent: boolean }[]} */
let asked = [];
/** The number of the last thing asked. */
let last = 0;
/** What was asked up to this one was asked before the last words came: its answer does not wipe them away. */
let spoken = 0;

/** @param {string} act @param {Record<string, any>} [more] */
export function tell(act, more = {}) {
  const m = { do: "photograph", act, ...more, asked: ++last };
  asked.push({ m, sent: wire.ask(m) });
  view.picture?.draw();
}

/** What is not answered yet. */
export const waiting = () => asked.map((a) => a.m);

/** @param {any} m an answer */
function heard(m) {
  asked = asked.filter((a) => a.m.asked !== m.asked);
}

/** The connection broke or is there again. @param {boolean} open */
export function wired(open) {
  if (!view.picture) return;
  if (!open) {
    const gone = asked.filter((a) => a.sent).length;
    asked = asked.filter((a) => !a.sent);
    if (gone) news("The connection to the program broke before it answered: look whether what was pressed last is there.");
    view.picture.draw();
    return;
  }
  const rest = asked;
  asked = [];
  tell("open");
  for (const a of rest) asked.push({ m: a.m, sent: wire.ask(a.m) });
}

/** Hands that press on the picture, by their names: where, how near is the same place, the picked point that was pressed.
 * @type {Map<string, (at: number[], near: number, id: string | null) => void>} */
export const hands = new Map();
hands.set("look", (_at, _near, id) => id && choose(id));
hands.set("hole", (at, near) => tell("hole", { at, near }));
hands.set("point", (at, _near, id) => (id ? choose(id) : tell("pick", { at })));
/** The hand that is chosen. */
export const hand = () => /** @type {HTMLInputElement} */ (document.querySelector("[name=ph-hand]:checked")).value;
/** What others say while nothing else is to be said. @type {{ words: () => string }} */
export const hint = { words: () => "" };
/** What others draw over the picture. @type {((pixel: number) => Element[])[]} */
export const layers = [];
/** What others do with a new state. @type {((m: any) => void)[]} */
export const shown = [];

/** What else is made ready once the view is in the page. @type {(() => void)[]} */
export const ready = [];

/** @param {string} id */
const select = (id) => /** @type {HTMLSelectElement} */ (by(id));

/** @param {string} words */
export function news(words) {
  if (words) spoken = last;
  by("ph-news").textContent = words || hint.words();
}

/** What is picked in the picture, as the file has it. @returns {any[]} */
const picks = () => photo().picks ?? [];

button("photo").onclick = async () => {
  if (!view.picture) {
    const page = new DOMParser().parseFromString(await (await fetch("photograph.html")).text(), "text/html");
    by("photograph").replaceChildren(...[...page.body.children].map((e) => document.adoptNode(e)));
    begin();
  }
  dialog("photograph").showModal();
  tell("open");
};

function begin() {
  view.picture = new Picture({
    press: (at, near, id) => hands.get(hand())?.(at, near, id),
    moved: (id, at) => tell("pick", { id, at }),
  });
  view.picture.drawn = draw;
  ready.forEach((r) => r());
  button("ph-choose").onclick = () => {
    const [act, name] = select("ph-pictures").value.split(/:(.*)/s);
    if (name) tell(act, act === "choose" ? { picture: name } : { survey: name });
  };
  button("ph-undo").onclick = () => tell("undo");
  button("ph-redo").onclick = () => tell("redo");
  button("ph-save").onclick = () => tell("save", { name: input("ph-name").value });
  button("ph-close").onclick = () => dialog("photograph").close();
  by("ph-point").onsubmit = (e) => {
    e.preventDefault();
    const to = input("ph-id").value.trim();
    const place = { x: input("ph-x").value, y: input("ph-y").value };
    const placed = place.x || place.y || written(view.chosen) ? place : {};
    // one step: where the name is refused, no other point is put anywhere
    if (to !== view.chosen || placed === place) tell("point", { id: view.chosen, to, ...placed });
  };
  by("ph-corner").onsubmit = (e) => {
    e.preventDefault();
    tell("radius", { id: view.chosen, radius: input("ph-radius").value });
  };
  by("ph-of").onsubmit = (e) => {
    e.preventDefault();
    const now = photo();
    const said = { kind: select("ph-kind").value, lens: select("ph-lens").value, deviation: input("ph-deviation").value.trim() };
    const was = { kind: now.kind, lens: now.lens === false ? "no" : "", deviation: String(now.deviation ?? "") };
    const more = Object.fromEntries(Object.entries(said).filter(([k, v]) => v !== /** @type {any} */ (was)[k]));
    if (Object.keys(more).length) tell("picture", more);
  };
  button("ph-closer").onclick = () => view.picture?.closer(1.5);
  button("ph-farther").onclick = () => view.picture?.closer(1 / 1.5);
  button("ph-whole").onclick = () => view.picture?.whole();
  by("ph-hands").onchange = () => news("");
  button("ph-drop").onclick = () => tell("drop", { id: view.chosen });
  by("ph-reading").onsubmit = (e) => {
    e.preventDefault();
    const of = [select("ph-a").value, select("ph-b").value];
    const what = of[1] === "" ? "diameter" : "distance";
    tell("reading", { what, of: what === "diameter" ? [of[0]] : of, reads: input("ph-reads").value, tool: select("ph-tool").value });
  };
}

wire.on.set("photograph", (m) => {
  heard(m);
  const before = new Set(picks().map((k) => k.point ?? k.circle));
  const same = view.state?.image === m.image;
  view.state = m;
  if (!view.picture) return;
  if (m.news) news(m.news);
  else if (m.asked > spoken) news("");
  const options = [
    ...m.pictures.map((/** @type {string} */ p) => [`choose:${p}`, p]),
    ...m.surveys.map((/** @type {string} */ s) => [`take-up:${s}`, `${s} (survey)`]),
  ].map(([value, words]) => new Option(words, value));
  if (!options.length) options.push(new Option("no PNG or JPEG beside the panel", ""));
  const had = select("ph-pictures").value;
  select("ph-pictures").replaceChildren(...options);
  if (options.some((o) => o.value === had)) select("ph-pictures").value = had;
  else if (m.image) select("ph-pictures").value = `choose:${m.image}`;
  if (m.draft) view.picture.show(`made/photograph/0?${encodeURIComponent(m.image)}`, m.size);
  const now = picks().map((k) => k.point ?? k.circle);
  const added = same ? now.filter((id) => !before.has(id)) : [];
  if (added.length) view.chosen = added[0];
  if (!now.includes(view.chosen)) view.chosen = "";
  button("ph-undo").disabled = !m.undo;
  button("ph-redo").disabled = !m.redo;
  button("ph-save").disabled = !m.draft || !m.changed;
  button("ph-under").disabled = !m.told;
  if (m.name) input("ph-name").value = m.name;
  else if (!input("ph-name").value && m.image) input("ph-name").value = `${m.image.replace(/\.\w+$/, "")}-survey.json`;
  say(m);
  of(m);
  lists(m);
  choose(view.chosen);
  if (added.length === 1 && picks().some((k) => k.point === added[0])) input("ph-x").focus();
  for (const s of shown) s(m);
  document.documentElement.dataset.photograph = String(m.revision);
});
hear("photograph-words", (m) => news(m.words));
hear("photograph-asks", (m) => {
  ask(m.words, [[m.again.act === "save" ? "Replace it" : "Give it up and go on", () => tell(m.again.act, { ...m.again, over: true })]], "Leave it");
});

/** Another kind of answer. @param {string} kind @param {(m: any) => void} does */
export function hear(kind, does) {
  wire.on.set(kind, (m) => {
    heard(m);
    does(m);
    view.picture?.draw();
  });
}

/** What the file says of the picture. */
const photo = () => view.state?.draft?.photographs[view.state.photo] ?? {};

/** Where the file says that a point lies. @param {string} id @returns {any[] | null} */
function written(id) {
  const d = view.state?.draft;
  return [...(d?.points ?? []), ...(d?.circles ?? [])].find((p) => p.id === id)?.at ?? null;
}

/** A point as a corner of the outline or of an opening. @param {string} id @returns {any} */
function corner(id) {
  const found = view.state?.draft?.["as-found"] ?? {};
  const all = [...(found.outline ?? []), ...(found.openings ?? []).flatMap((/** @type {any} */ o) => o.points ?? [])];
  const c = all.find((c) => (c.to ?? c) === id);
  return c && (c.to ? c : { to: c });
}

/** @param {string} id */
export function choose(id) {
  view.chosen = id;
  const at = written(id);
  for (const [key, value] of [["ph-id", id], ["ph-x", at?.[0] ?? ""], ["ph-y", at?.[1] ?? ""]]) {
    input(key).disabled = !id;
    // what is being typed stays
    if (document.activeElement !== input(key) || input(key).dataset.of !== id) input(key).value = String(value);
    input(key).dataset.of = id;
  }
  button("ph-place").disabled = button("ph-drop").disabled = !id;
  const c = corner(id);
  input("ph-radius").disabled = button("ph-round").disabled = !c || c.through;
  if (document.activeElement !== input("ph-radius") || input("ph-radius").dataset.of !== id) input("ph-radius").value = String(c?.radius ?? "");
  input("ph-radius").dataset.of = id;
  for (const r of by("ph-points").querySelectorAll("tr")) r.toggleAttribute("aria-current", false);
  by("ph-points").querySelector(`tr[data-id="${CSS.escape(id)}"]`)?.setAttribute("aria-current", "true");
  view.picture?.draw();
}

/** What holds for the whole. @param {any} m */
function say(m) {
  const words = [];
  if (!m.draft) words.push("Choose a picture that lies beside the panel's file (PNG or JPEG), or a survey to go on with.");
  else if (!m.told) words.push(`Withheld until the known points hold the picture. ${m.missing.join(" ")}`);
  else {
    const t = m.told;
    words.push(`Picks are off by ${t.rms.toFixed(2)} px (rms); a pixel covers ${t.covers[0].toFixed(2)} to ${t.covers[1].toFixed(2)} mm; ${t.freedom} picks and readings more than needed.`);
    words.push(...t.says);
  }
  by("ph-says").textContent = words.join(" ");
  by("ph-suspects").replaceChildren(...(m.told?.suspects ?? []).map((/** @type {any} */ s) => {
    const li = document.createElement("li");
    li.textContent = s.words;
    return li;
  }));
  by("ph-assumed").replaceChildren(...(m.told?.assumed ?? []).map((/** @type {string} */ w) => {
    const li = document.createElement("li");
    li.textContent = w;
    return li;
  }));
}

/** How the picture came about, and what its lens does. @param {any} m */
function of(m) {
  const p = photo();
  select("ph-kind").value = p.kind ?? "photograph";
  select("ph-lens").value = p.lens === false ? "no" : "";
  select("ph-lens").disabled = p.kind === "scan";
  if (document.activeElement !== input("ph-deviation")) input("ph-deviation").value = String(p.deviation ?? "");
  const words = [];
  if (m.told) words.push(`A pick is taken to be off by ${m.told.deviation} px (standard deviation)${p.deviation ? "" : ", as nothing else is said"}.`);
  if (m.told?.lens) words.push(`The lens moves the picture's corner by ${m.told.lens[0].toFixed(1)} px, standard deviation ${m.told.lens[1].toFixed(1)} px.`);
  else if (m.told) words.push("No bend of a lens is taken off.");
  by("ph-of-says").textContent = words.join(" ");
}

/** @param {any} m */
function lists(m) {
  /** @type {import("./photo-list.js").Point[]} */
  const told = m.told ? [...m.told.points, ...m.told.circles] : [];
  const known = new Set(told.map((p) => p.id));
  const open = picks().map((k) => ({ id: k.point ?? k.circle, kind: k.circle ? "round hole" : written(k.point)?.join(", ") ?? "place not known" }));
  list.points(told, open.filter((o) => !known.has(o.id)), view.chosen, choose);
  const said = m.told?.readings ?? (m.draft?.readings ?? []).map((/** @type {any} */ r, /** @type {number} */ n) =>
    ({ n, words: [r.distance ?? r.diameter ?? ""].flat().join(" to "), reads: String(r.reads), off: null, verdict: "withheld" }));
  list.readings(said, (n) => tell("drop-reading", { n }));
  const ids = open.map((o) => o.id).sort();
  for (const key of ["ph-a", "ph-b"]) {
    const had = select(key).value;
    select(key).replaceChildren(...(key === "ph-b" ? [new Option("(its diameter)", "")] : []), ...ids.map((id) => new Option(id, id)));
    if (ids.includes(had)) select(key).value = had;
  }
}

/** Picks, and from each an arrow to where the solution has it. @param {number} px */
function draw(px) {
  const p = view.picture;
  const m = view.state;
  if (!p || !m?.draft) return [];
  /** @type {Map<string, import("./photo-list.js").Point>} */
  const told = new Map((m.told ? [...m.told.points, ...m.told.circles] : []).map((/** @type {any} */ q) => [q.id, q]));
  const marks = picks().filter((k) => k.point).map((k) => ({ id: k.point, at: k.at, of: told.get(k.point) }));
  // the longest arrow is as long as a tenth of what is seen
  const longest = Math.max(0, ...marks.map((k) => (k.of && k.of.verdict !== "set aside" ? Math.hypot(k.of.shows[0] - k.at[0], k.of.shows[1] - k.at[1]) : 0)));
  view.factor = [1000, 500, 200, 100, 50, 20, 10, 5, 2, 1].find((f) => f * longest < 0.1 * p.size[0]) ?? 1;
  /** @type {Element[]} */
  const all = [];
  for (const c of m.told?.circles ?? []) {
    if (!c.picked) continue;
    const g = shape("g", { class: c.id === view.chosen ? "ph-chosen" : "" });
    g.append(...p.both("path", { d: `M${c.round.map((/** @type {number[]} */ q) => q.join(" ")).join("L")}Z` }));
    g.append(text([c.shows[0], c.shows[1]], `${c.id} ${c["diameter-words"] ?? ""}`, px, "middle"));
    all.push(g);
  }
  for (const k of marks) {
    const g = shape("g", { class: [k.id === view.chosen ? "ph-chosen" : "", k.of?.verdict === "set aside" ? "ph-aside" : ""].join(" ") });
    g.append(...p.both("path", { d: star(k.at, 11 * px) }));
    if (k.of && k.of.px !== null) {
      const by = k.of.verdict === "set aside" ? 1 : view.factor;
      const to = k.at.map((/** @type {number} */ v, /** @type {number} */ i) => v + by * ((k.of?.shows[i] ?? v) - v));
      const a = shape("g", { class: "ph-arrow" });
      if (Math.hypot(to[0] - k.at[0], to[1] - k.at[1]) > px) a.append(...p.both("path", { d: arrow(k.at, to, 9 * px) }));
      g.append(a);
    }
    g.append(text([k.at[0] + 8 * px, k.at[1] - 8 * px], k.id, px, "start"));
    g.append(shape("circle", { class: "ph-grip", cx: k.at[0], cy: k.at[1], r: 10 * px, "data-id": k.id }));
    all.push(g);
  }
  const waits = waiting().filter((a) => a.at);
  for (const a of waits) all.push(...p.both("circle", { cx: a.at[0], cy: a.at[1], r: 6 * px }).map((e) => (e.classList.add("ph-waits"), e)));
  const late = asked.length ? [`The program has not answered ${asked.length} of what was asked yet.`] : [];
  const scale = m.told && marks.length ? [`Arrows ${view.factor} times as long as the residuals; of what is set aside, true length.`] : [];
  by("ph-scale").textContent = [...late, ...scale].join(" ");
  return [...all, ...layers.flatMap((l) => l(px))];
}

/** @param {number[]} at @param {string} words @param {number} px @param {string} anchor */
export function text(at, words, px, anchor) {
  const t = shape("text", { x: at[0], y: at[1], "text-anchor": anchor, "font-size": 14 * px });
  t.textContent = words;
  return t;
}
