// Layouts kept side by side: a card of each, what differs between two, back to one of them. The server keeps them.
// @ts-check
import { desk, wire } from "./desk.js";
import { ask, button, by, dialog, input } from "./page.js";

/** @typedef {{ svg?: string, counts?: any, differs?: string | null, problem?: string }} Card */
/** @typedef {{ verdict: string, says: string, a: string, b: string | null, asks: string } | null} Said */

/** What the panel as it stands is called. */
const PRESENT = "As it stands";
/** @type {string[]} */
let names = [];

const select = (/** @type {string} */ id) => /** @type {HTMLSelectElement} */ (by(id));
const opened = () => dialog("layouts").open;

button("what-if").onclick = () => {
  dialog("layouts").showModal();
  by("layouts-differ").replaceChildren();
  said("");
  refresh();
};
button("layouts-close").onclick = () => dialog("layouts").close();
dialog("layouts").addEventListener("close", () => wire.ask({ do: "layouts-closed" }));
by("layouts-keep").addEventListener("submit", (e) => {
  e.preventDefault();
  wire.ask({ do: "layout-keep", name: input("layout-name").value });
});
by("layouts-compare").addEventListener("submit", (e) => {
  e.preventDefault();
  const of = (/** @type {string} */ id) => select(id).value || null;
  said("Comparing …");
  wire.ask({ do: "layouts-compare", a: of("layout-a"), b: of("layout-b") });
});

/** @param {string} words */
function said(words) {
  by("layouts-news").textContent = words;
}

/** Asks for the cards anew; the panel or what is kept has changed. */
export function refresh() {
  if (opened()) wire.ask({ do: "layouts" });
}
wire.on.set("layouts-changed", refresh);

wire.on.set("layouts", (m) => {
  if (m.problem) said(m.problem);
  names = m.names;
  const had = new Map([...by("layouts-cards").children].map((c) => [/** @type {HTMLElement} */ (c).dataset.name, c]));
  // what is shown already stays until it is told anew
  by("layouts-cards").replaceChildren(...["", ...names].map((n) => had.get(n) ?? frame(n)));
  for (const id of ["layout-a", "layout-b"]) {
    const old = select(id).value;
    select(id).replaceChildren(new Option(PRESENT, ""), ...names.map((n) => new Option(n, n)));
    select(id).value = names.includes(old) ? old : id === "layout-a" ? "" : (names.at(-1) ?? "");
  }
  button("layouts-ask").disabled = names.length === 0;
});
wire.on.set("layout", (m) => {
  const f = by("layouts-cards").querySelector(`[data-name="${CSS.escape(m.name ?? "")}"]`);
  if (f) fill(/** @type {HTMLElement} */ (f), m.card);
});
wire.on.set("layout-kept", (m) => {
  input("layout-name").value = "";
  said(`Kept as ${m.name}.`);
});
wire.on.set("layout-saved", (m) => said(`${m.name} is saved as ${m.file}, beside the panel's file.`));

/** @template {keyof HTMLElementTagNameMap} T @param {T} kind @param {string} [words] @param {string} [of] */
export function element(kind, words = "", of = "") {
  const e = document.createElement(kind);
  e.textContent = words;
  if (of) e.className = of;
  return e;
}

/** A card that waits for what it shows. @param {string} name */
function frame(name) {
  const f = element("li", "", "card");
  f.dataset.name = name;
  f.append(element("h3", name || PRESENT), element("div", "still drawing", "front"), element("p", "", "counts"), element("p", "", "differs"));
  if (name) f.append(deeds(name));
  return f;
}

/** @param {HTMLElement} f @param {Card} card */
function fill(f, card) {
  const at = (/** @type {string} */ c) => /** @type {HTMLElement} */ (f.querySelector(`.${c}`));
  if (card.problem) {
    at("front").textContent = at("counts").textContent = "";
    at("differs").textContent = `It can no longer be read: ${card.problem}`;
    return;
  }
  at("front").replaceChildren(front(card.svg ?? "", `Front view of ${f.dataset.name || PRESENT}`));
  const c = card.counts;
  at("counts").textContent = `${c.fail} fail, ${c.withheld} withheld, ${c.tight} tight, ${c.pass} pass`;
  at("differs").textContent = f.dataset.name ? `From the present one: ${card.differs}.` : "";
}

/** A front view for a card: its ids would be those of the next card too. @param {string} svg @param {string} words */
export function front(svg, words) {
  const doc = new DOMParser().parseFromString(svg, "image/svg+xml");
  const e = document.importNode(doc.documentElement, true);
  for (const own of [e, ...e.querySelectorAll("[id]")]) own.removeAttribute("id");
  for (const gone of e.querySelectorAll(":scope > title, :scope > desc")) gone.remove();
  e.removeAttribute("aria-labelledby");
  e.setAttribute("aria-label", words);
  // the paper's white is the card's own
  e.querySelector(":scope > rect")?.setAttribute("fill", "none");
  return e;
}

/** What can be done with a layout. @param {string} name */
function deeds(name) {
  const row = element("div", "", "deeds");
  const back = element("button", "Go back to it");
  back.onclick = () => {
    dialog("layouts").close();
    wire.ask({ do: "layout-back", name });
  };
  const file = element("form");
  file.hidden = true;
  const label = element("label", "File ");
  const to = element("input");
  to.placeholder = "second-idea.json";
  label.append(to);
  file.append(label, element("button", "Save it"));
  file.addEventListener("submit", (e) => {
    e.preventDefault();
    wire.ask({ do: "layout-save", name, file: to.value });
  });
  const save = element("button", "Save as a file…");
  save.setAttribute("aria-expanded", "false");
  save.onclick = () => {
    file.hidden = !file.hidden;
    save.setAttribute("aria-expanded", String(!file.hidden));
    if (!file.hidden) to.focus();
  };
  const forget = element("button", "Forget");
  forget.onclick = () => ask(`Forget the layout ${name}? It cannot be had back.`, [["Forget it", () => wire.ask({ do: "layout-forget", name })]], "Keep it");
  row.append(back, save, forget, file);
  return row;
}

wire.on.set("layouts-differ", (m) => {
  said("");
  const t = m.told;
  if (t.problem) return said(t.problem);
  const [a, b] = [m.a ?? PRESENT, m.b ?? PRESENT];
  /** @type {HTMLElement[]} */
  const out = [element("h3", `${a} and ${b}`)];
  if (!t.items.length && !t.rows.length && !t.said.length) out.push(element("p", "No item and no verdict differs."));
  if (t.items.length) {
    const list = element("ul");
    list.append(...t.items.map((/** @type {{ id: string, says: string }} */ i) => element("li", `${i.id}: ${i.says}`)));
    out.push(element("h4", `Items that differ, from the first to the second (${t.items.length})`), list);
  }
  if (t.rows.length) out.push(element("h4", `Findings that differ (${t.rows.length})`), table(t.rows, a, b));
  if (t.more) out.push(element("p", `And ${t.more} more findings.`));
  if (t.passes) out.push(element("p", `Passes that appeared, vanished or have another margin: ${t.passes}.`));
  if (t.said.length) {
    const list = element("ul");
    list.append(...t.said.map((/** @type {string} */ s) => element("li", s)));
    out.push(element("h4", "What else is said of the panel"), list);
  }
  by("layouts-differ").replaceChildren(...out);
  by("layouts-differ").focus();
});

/** @param {{ id: string, worse: boolean, a: Said, b: Said }[]} rows @param {string} a @param {string} b */
function table(rows, a, b) {
  const t = element("table");
  const head = t.createTHead().insertRow();
  for (const words of ["Finding", a, b]) {
    const th = element("th", words);
    th.scope = "col";
    head.append(th);
  }
  const body = t.createTBody();
  for (const r of rows) {
    const tr = body.insertRow();
    const of = r.b ?? r.a;
    const who = element("th", of ? (of.b ? `${of.a} and ${of.b}` : of.a) : r.id);
    who.scope = "row";
    who.append(element("small", of?.asks ?? ""));
    tr.append(who);
    for (const [k, s] of [r.a, r.b].entries()) {
      const td = tr.insertCell();
      td.dataset.verdict = s?.verdict ?? "";
      td.append(element("span", s?.verdict ?? "not asked", "word"), element("span", s?.says ?? ""));
      if (k && r.worse) td.append(element("em", "worse than before"));
    }
  }
  return t;
}

Object.assign(desk, { layouts: () => names });
