// The numbers of the chosen item: what its definition says, what is said here of it alone and where that comes from. What was
// typed is set in one step; a number that is taken back is the definition's again.
// @ts-check
import { desk, news, one, wire } from "./desk.js";
import { element } from "./layouts.js";
import { button, by, dialog, input } from "./page.js";

/** @typedef {{ path: string, says: string, stated: { words: string, source: string } | null, own: { words: string, named: string, source: string } | null }} Line */

/** The answer to a list of sources that asks for a new one; no source bears it, as it is no id. */
const NEW = "+";

/** @type {{ id: string, lines: Line[] } | null} what is shown */
let shown = null;

const select = (/** @type {string} */ id) => /** @type {HTMLSelectElement} */ (by(id));
const typed = () => /** @type {HTMLInputElement[]} */ ([...by("numbers-list").querySelectorAll("input")]);
const opened = () => dialog("numbers").open;

/** @param {string} words */
function said(words) {
  by("numbers-news").textContent = words;
}

button("numbers-of").onclick = () => {
  const i = one();
  if (!i) return;
  shown = null;
  by("numbers-list").replaceChildren();
  said("");
  dialog("numbers").showModal();
  wire.ask({ do: "numbers", id: i.id });
};
button("numbers-close").onclick = () => {
  dialog("numbers").close();
  left();
};
dialog("numbers").addEventListener("close", left);

/** The button that opened it stands in a list that is closed by now: the focus goes to that list's own, not to a field that is gone. */
function left() {
  shown = null;
  if (!document.querySelector("dialog[open]")) button("more").focus();
}

wire.on.set("numbers", (m) => {
  if (!opened()) return;
  // what was typed and not set yet outlives the news of another page
  const kept = new Map(shown?.id === m.id ? typed().filter((x) => x.value !== x.defaultValue).map((x) => [x.dataset.path, x.value]) : []);
  shown = m;
  by("numbers-head").textContent = `Numbers of ${m.id}: ${m.title}`;
  by("numbers-instrument").textContent = `Definition: ${m.instrument}. What is said here holds for ${m.id} alone.`;
  const before = select("numbers-source").value;
  select("numbers-source").replaceChildren(
    ...m.sources.map((/** @type {[string, string]} */ [name, words]) => new Option(words ? `${name}: ${words}` : name, name)),
    new Option("a new source …", NEW),
  );
  if ([...select("numbers-source").options].some((o) => o.value === before)) select("numbers-source").value = before;
  if (!select("numbers-basis").options.length) {
    select("numbers-basis").replaceChildren(...m.bases.map((/** @type {[string, string]} */ [word, says]) => new Option(`${word}: ${says}`, word)));
    select("numbers-basis").value = "measured";
  }
  fresh();
  const there = m.lines.filter((/** @type {Line} */ l) => l.stated || l.own);
  const open = m.lines.filter((/** @type {Line} */ l) => !l.stated && !l.own);
  by("numbers-list").replaceChildren(table(there, "Numbers that are said"));
  if (open.length) by("numbers-list").append(table(open, "Numbers that nobody says: what needs one of them is withheld"));
  for (const x of typed()) {
    const had = kept.get(x.dataset.path);
    if (had !== undefined) x.value = had;
  }
  look();
});

/** The fields of a new source are there while one is asked for. */
function fresh() {
  by("numbers-fresh").hidden = select("numbers-source").value !== NEW;
}
select("numbers-source").onchange = fresh;

/** @param {Line[]} lines @param {string} words */
function table(lines, words) {
  const t = element("table");
  t.createCaption().textContent = words;
  const head = t.createTHead().insertRow();
  for (const word of ["Number", "The definition says", "Here", "Where it comes from"]) {
    const th = element("th", word);
    th.scope = "col";
    head.append(th);
  }
  const body = t.createTBody();
  for (const l of lines) row(body.insertRow(), l);
  return t;
}

/** @param {HTMLTableRowElement} tr @param {Line} l */
function row(tr, l) {
  tr.dataset.path = l.path;
  const who = element("th", l.path);
  who.scope = "row";
  who.append(element("small", l.says));
  tr.append(who);
  tr.insertCell().textContent = l.stated?.words ?? "nothing";
  const x = element("input");
  x.defaultValue = l.own?.words ?? "";
  x.placeholder = l.stated?.words ?? "";
  x.dataset.path = l.path;
  x.setAttribute("aria-label", `${l.path} of this item`);
  tr.insertCell().append(x);
  const from = tr.insertCell();
  from.append(element("span", l.own ? `this panel: ${l.own.source}` : (l.stated?.source ?? "")));
  if (!l.own) return;
  tr.dataset.own = "";
  const back = element("button", l.stated ? "Back to the definition's" : "Take it back");
  back.type = "button";
  back.onclick = () => {
    if (shown) wire.ask({ do: "number", id: shown.id, clear: [l.path] });
  };
  from.append(back);
}

/** Shows the rows whose words hold what is looked for. */
function look() {
  const words = input("numbers-look").value.toLowerCase().split(/\s+/).filter(Boolean);
  for (const tr of /** @type {NodeListOf<HTMLElement>} */ (by("numbers-list").querySelectorAll("tbody tr"))) {
    const text = (tr.textContent ?? "").toLowerCase();
    tr.hidden = !words.every((w) => text.includes(w));
  }
}
input("numbers-look").oninput = look;

by("numbers-set").addEventListener("submit", (e) => {
  e.preventDefault();
  if (!shown) return;
  const all = typed().filter((x) => x.value.trim() !== x.defaultValue);
  const set = all.filter((x) => x.value.trim()).map((x) => [x.dataset.path, x.value]);
  const clear = all.filter((x) => !x.value.trim() && x.defaultValue).map((x) => x.dataset.path);
  const anew = select("numbers-source").value === NEW;
  const of = (/** @type {string} */ key) => input(`numbers-${key}`).value;
  said("");
  wire.ask({
    do: "number", id: shown.id, set, clear, source: anew ? of("name") : select("numbers-source").value,
    fresh: anew ? { basis: select("numbers-basis").value, who: of("who"), when: of("when"), document: of("document") } : null,
  });
});

// what was set, undone or changed by another page
news.addEventListener("state", () => {
  if (!opened() || !shown) return;
  // an item that is no more has no numbers
  if (desk.items.has(shown.id)) wire.ask({ do: "numbers", id: shown.id });
  else dialog("numbers").close();
});
