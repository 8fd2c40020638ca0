// The board: the drawing under the hand, the rules beside it. The server owns the text, undo and the journal.
// @ts-check
import { Findings } from "./findings.js";
import { Sheet, shape } from "./sheet.js";
import { snap } from "./snap.js";
import { Wire } from "./wire.js";

/** @typedef {import("./snap.js").Item & { title: string, turn: number, locked: boolean, x: string, y: string, provision: boolean, verdict: string, number: number }} Placed */

/** @template {HTMLElement} [T=HTMLElement] @param {string} id */
const by = (id) => /** @type {T} */ (document.getElementById(id));
/** @param {string} id */
const button = (id) => /** @type {HTMLButtonElement} */ (by(id));
/** @param {string} id */
const input = (id) => /** @type {HTMLInputElement} */ (by(id));

const wire = new Wire();
const sheet = new Sheet();
const findings = new Findings(by("findings"), show);

/** @type {any} the last state that the server told */
let state = null;
/** @type {Map<string, Placed>} */
let items = new Map();
/** @type {string[]} */
let chosen = [];
/** @type {any} what is held */
let held = null;
/** Milliseconds from the pointer's handler to that position's findings in the page, the last ones. @type {number[]} */
const waits = [];
Object.assign(window, { board: { waits, get state() { return state; }, get chosen() { return chosen; } } });

// ---- what the server says

wire.told = (/** @type {boolean} */ open) => {
  document.documentElement.dataset.wire = open ? "open" : "lost";
  if (!open) notice("The program does not answer; what was done is in its journal. Start it again and use the new address.", []);
  else notice("", []);
};

wire.on.set("state", (m) => {
  state = m;
  items = new Map(m.items.map((/** @type {Placed} */ i) => [i.id, i]));
  chosen = chosen.filter((id) => items.has(id));
  by("name").textContent = m.name;
  document.title = `${m.name}: board`;
  by("file").textContent = m.file + (m.changed ? ", not saved" : ", saved");
  const c = m.counts;
  by("counts").textContent = `${c.fail} fail, ${c.withheld} withheld, ${c.tight} tight, ${c.pass} pass`;
  button("undo").disabled = m.undo === 0;
  button("redo").disabled = m.redo === 0;
  button("save").disabled = !m.changed;
  if (held?.drop) held = null; // it was done
  if (held?.moved) return; // another page changed something: shown when the hand lets go
  sheet.draw(m.view);
  handles();
  grids(m.unit);
  findings.set(m.findings);
  choose(chosen);
  if (m.offer) {
    notice(m.offer, [["Take it up", () => wire.ask({ do: "offer", take: true })], ["Give it up", () => wire.ask({ do: "offer", take: false })]]);
  } else if (m.conflict) {
    conflict();
  } else if (document.documentElement.dataset.wire === "open") notice("", []);
});
wire.on.set("refused", (m) => {
  const again = held?.drop;
  letGo();
  if (m.asks && again) {
    ask(`${m.words}.`, "Put at coordinates", () => again(true), "Leave it");
  } else notice(m.words, [["Close", () => notice("", [])]]);
});
wire.on.set("conflict", conflict);
wire.on.set("saved", () => {
  document.documentElement.dataset.saved = String(Date.now());
});
wire.on.set("added", (m) => {
  chosen = [m.id];
  findings.current = null;
});
wire.on.set("grab", (m) => {
  if (!held) return;
  held.follow = m.follow;
});
wire.on.set("region", (m) => {
  if (held?.grab === m.n) sheet.region(m.path);
});
wire.on.set("drag", (m) => {
  if (!held) return;
  findings.differ(m.findings, m.gone);
  sheet.arrows(findings.nearest(chosen));
  waits.push(performance.now() - held.asked.get(m.n));
  if (waits.length > 5000) waits.shift();
  held.asked.delete(m.n);
  held.busy = false;
  if (held.next) say(held.next.by, held.next.since);
});
wire.on.set("catalogue", (m) => {
  shelf = m.all;
  shelve();
});

function conflict() {
  notice("The file was changed by another program since it was read. Nothing of it is overwritten unless you say so.", [
    ["Take the file's", () => wire.ask({ do: "reload" })],
    ["Keep mine, replace the file", () => wire.ask({ do: "save", over: true })],
  ]);
}

/** @param {string} words @param {[string, () => void][]} answers */
function notice(words, answers) {
  const box = by("notice");
  box.hidden = !words;
  const p = document.createElement("span");
  p.textContent = words;
  const all = answers.map(([word, run]) => {
    const b = document.createElement("button");
    b.textContent = word;
    b.onclick = run;
    return b;
  });
  box.replaceChildren(p, ...all);
}

/** @param {string} words @param {string} yes @param {() => void} run @param {string} no */
function ask(words, yes, run, no) {
  const box = /** @type {HTMLDialogElement} */ (by("ask"));
  by("ask-words").textContent = words;
  button("ask-yes").textContent = yes;
  button("ask-no").textContent = no;
  button("ask-yes").onclick = () => {
    box.close();
    run();
  };
  button("ask-no").onclick = () => box.close();
  box.showModal();
}

// ---- choosing

function handles() {
  const had = /** @type {SVGElement | null} */ (document.activeElement)?.dataset?.id;
  // small ones over large ones
  const all = [...items.values()].sort((a, b) => area(b) - area(a));
  const made = all.map((i) => {
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

/** @param {Placed} i */
const area = (i) => (i.box[2] - i.box[0]) * (i.box[3] - i.box[1]);

/** @param {string[]} ids */
function choose(ids) {
  chosen = ids;
  for (const e of by("items").children) {
    if (!e.hasAttribute("data-held")) e.setAttribute("aria-pressed", String(ids.includes(/** @type {SVGElement} */ (e).dataset.id ?? "")));
  }
  const one = ids.length === 1 ? items.get(ids[0]) : undefined;
  by("chosen").textContent = ids.length ? ids.join(", ") : "none chosen";
  for (const key of /** @type {const} */ (["x", "y", "turn"])) {
    input(key).disabled = !one || (key === "turn" && one.label);
    input(key).value = one ? String(one[key]) : "";
  }
  for (const id of ["place", "turn-left", "lock", "behind"]) button(id).disabled = !one || (id === "turn-left" && one.label);
  button("delete").disabled = !ids.length;
  button("lock").textContent = one?.locked ? "Free" : "Lock";
  for (const id of ["row", "column"]) button(id).disabled = ids.length < 2;
  button("spread").disabled = ids.length < 3;
  findings.only = input("only").checked && ids.length ? ids : null;
  findings.draw();
  sheet.arrows(ids.length ? findings.nearest(ids) : []);
}

/** Shows a finding on the sheet. @param {import("./findings.js").Finding} f */
function show(f) {
  findings.current = f.id;
  choose(f.subjects.filter((s) => items.has(s)).slice(0, 1));
  sheet.arrows([{ ...f, words: f.words ?? f.verdict, "asked-words": f["asked-words"] ?? f.asks }]);
}

// ---- holding

const over = sheet.over;
let grabs = 0;
/** @type {Map<number, number[]>} */
const fingers = new Map();

over.addEventListener("pointerdown", (e) => {
  fingers.set(e.pointerId, [e.clientX, e.clientY]);
  over.setPointerCapture(e.pointerId);
  const id = e.button === 0 ? /** @type {SVGElement} */ (e.target).dataset?.id : undefined;
  const item = id ? items.get(id) : undefined;
  if (!item || !id || fingers.size > 1) {
    if (e.button === 0 && !e.shiftKey && !id) choose([]);
    letGo();
    held = null;
    return;
  }
  /** @type {SVGElement} */ (e.target).focus();
  if (e.shiftKey) return choose(chosen.includes(id) ? chosen.filter((c) => c !== id) : [...chosen, id]);
  if (!chosen.includes(id)) choose([id]);
  if (item.locked) return;
  grab(id, sheet.panel(e.clientX, e.clientY));
});

/** @param {string} id @param {number[]} from */
function grab(id, from) {
  const ids = chosen;
  held = {
    id, from, ids, by: [0, 0], moved: false, busy: false, next: null, n: 0, asked: new Map(),
    follow: ids.map((i) => [i, [1, 0, 0, 1]]),
    grab: ++grabs,
    drop: null,
  };
  wire.ask({ do: "grab", ids });
  wire.ask({ do: "region", n: grabs });
}

over.addEventListener("pointermove", (e) => {
  const since = performance.now();
  const last = fingers.get(e.pointerId);
  if (!last) return;
  if (!held) return panOrPinch(e, last);
  const p = sheet.panel(e.clientX, e.clientY);
  const raw = [p[0] - held.from[0], p[1] - held.from[1]];
  if (!held.moved && Math.hypot(raw[0], raw[1]) < (3 * sheet.pixel()) / sheet.scale) return;
  held.moved = true;
  document.documentElement.dataset.holding = "";
  const item = /** @type {Placed} */ (items.get(held.id));
  const moving = held.follow.map((/** @type {any} */ f) => f[0]);
  const others = [...items.values()].filter((i) => !moving.includes(i.id));
  const reach = e.altKey ? 0 : (7 * sheet.pixel()) / sheet.scale;
  const rests = e.altKey
    ? raw.map((r) => ({ by: Math.round(r * 100) / 100, line: null, words: "" }))
    : snap(item, others, state.sheet, raw, reach, grid());
  carry(rests.map((r) => r.by));
  sheet.snaps(rests);
  say(held.by, since);
});

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

/** @param {number[]} b */
function carry(b) {
  held.by = b;
  for (const [id, [xx, xy, yx, yy]] of held.follow) sheet.carry(id, [xx * b[0] + yx * b[1], xy * b[0] + yy * b[1]]);
  const item = items.get(held.id);
  if (item && chosen.length === 1) {
    const inch = state.unit === "in";
    ["x", "y"].forEach((key, k) => {
      const v = item.at[k] + b[k];
      input(key).value = inch ? `${(v / 25.4).toFixed(4)} in` : `${v.toFixed(2)} mm`;
    });
  }
}

/** Asks for the findings at a place; one question at a time, the newest next. @param {number[]} b @param {number} since */
function say(b, since) {
  if (held.busy) {
    held.next = { by: b, since };
    return;
  }
  held.busy = true;
  held.next = null;
  held.n += 1;
  held.asked.set(held.n, since);
  wire.ask({ do: "drag", by: b, n: held.n });
}

/** @param {PointerEvent} e */
function up(e) {
  fingers.delete(e.pointerId);
  if (!held) return;
  if (!held.moved || e.type === "pointercancel") {
    letGo();
    held = null;
    return;
  }
  const { ids, by: b } = held;
  const drop = (/** @type {boolean} */ coordinates) => wire.ask({ do: "move", ids, by: b, plain: coordinates });
  letGo();
  held = { drop };
  drop(false);
}
over.addEventListener("pointerup", up);
over.addEventListener("pointercancel", up);

/** What was carried is drawn anew by the next state, or goes back. */
function letGo() {
  if (held?.follow) {
    wire.ask({ do: "let-go" });
    for (const [id] of held.follow) sheet.carry(id, null);
    findings.differ([], []);
  }
  held = null;
  delete document.documentElement.dataset.holding;
  sheet.region(null);
  sheet.snaps([]);
}

over.addEventListener("wheel", (e) => {
  e.preventDefault();
  if (e.shiftKey) sheet.pan(-e.deltaY, 0);
  else sheet.zoom(Math.exp(-e.deltaY / 600), e.clientX, e.clientY);
}, { passive: false });
addEventListener("resize", () => sheet.letters());

// ---- numbers and keys

function grid() {
  return Number(/** @type {HTMLSelectElement} */ (by("grid")).value);
}

/** @param {string} unit */
function grids(unit) {
  const list = /** @type {HTMLSelectElement} */ (by("grid"));
  if (list.options.length) return;
  const all = unit === "in" ? [[25.4 / 16, "1/16 in"], [25.4 / 64, "1/64 in"], [25.4 / 8, "1/8 in"], [0.254, "0.01 in"]] : [[1, "1 mm"], [0.1, "0.1 mm"], [5, "5 mm"], [0.01, "0.01 mm"]];
  for (const [mm, words] of all) list.add(new Option(String(words), String(mm)));
}

/** @param {string[]} ids @param {number[]} b */
function move(ids, b) {
  const drop = (/** @type {boolean} */ plain) => wire.ask({ do: "move", ids, by: b, plain });
  held = { drop };
  drop(false);
}

by("block").addEventListener("submit", (e) => {
  e.preventDefault();
  const one = items.get(chosen[0]);
  if (!one) return;
  const turn = Number(input("turn").value);
  if (!one.label && input("turn").value.trim() !== "" && turn !== one.turn) return wire.ask({ do: "turn", id: one.id, to: turn });
  const drop = (/** @type {boolean} */ plain) => wire.ask({ do: "put", id: one.id, x: input("x").value, y: input("y").value, plain });
  held = { drop };
  drop(false);
});
button("turn-left").onclick = () => {
  const one = items.get(chosen[0]);
  if (one) wire.ask({ do: "turn", id: one.id, to: (one.turn + 90) % 360 });
};
button("lock").onclick = () => {
  const one = items.get(chosen[0]);
  if (one) wire.ask({ do: "lock", id: one.id, locked: !one.locked });
};
button("delete").onclick = remove;
function remove() {
  for (const id of chosen) wire.ask({ do: "delete", id });
}

/** All chosen ones to the height (or the column) of the first. @param {number} axis */
function align(axis) {
  const [first, ...rest] = chosen.flatMap((id) => items.get(id) ?? []);
  for (const i of rest) {
    const d = first.at[axis] - i.at[axis];
    if (Math.abs(d) > 1e-6) wire.ask({ do: "move", ids: [i.id], by: axis ? [0, d] : [d, 0], plain: false });
  }
}
button("row").onclick = () => align(1);
button("column").onclick = () => align(0);
button("spread").onclick = () => {
  const all = chosen.flatMap((id) => items.get(id) ?? []);
  const wide = Math.max(...all.map((i) => i.at[0])) - Math.min(...all.map((i) => i.at[0]));
  const tall = Math.max(...all.map((i) => i.at[1])) - Math.min(...all.map((i) => i.at[1]));
  const axis = wide >= tall ? 0 : 1;
  all.sort((a, b) => a.at[axis] - b.at[axis]);
  const from = all[0].at[axis], step = (all[all.length - 1].at[axis] - from) / (all.length - 1);
  all.slice(1, -1).forEach((i, k) => {
    // whole hundredths: what a file says is what a hand can mark out
    const d = Math.round((from + step * (k + 1)) * 100) / 100 - i.at[axis];
    if (Math.abs(d) > 1e-6) wire.ask({ do: "move", ids: [i.id], by: axis ? [0, d] : [d, 0], plain: false });
  });
};

const undo = () => wire.ask({ do: "undo" });
const redo = () => wire.ask({ do: "redo" });
const save = () => wire.ask({ do: "save", over: false });
button("undo").onclick = undo;
button("redo").onclick = redo;
button("save").onclick = save;
button("closer").onclick = () => sheet.zoom(1.25);
button("farther").onclick = () => sheet.zoom(0.8);
button("whole").onclick = () => sheet.look(null);
input("only").onchange = () => choose(chosen);

/** @param {boolean} dark */
function paper(dark) {
  document.documentElement.dataset.paper = dark ? "dark" : "light";
  button("paper").textContent = dark ? "Light paper" : "Dark paper";
}
paper(matchMedia("(prefers-color-scheme: dark)").matches);
button("paper").onclick = () => paper(document.documentElement.dataset.paper !== "dark");

addEventListener("keydown", (e) => {
  const typing = e.target instanceof HTMLInputElement || e.target instanceof HTMLSelectElement;
  const control = e.ctrlKey || e.metaKey;
  const key = e.key.toLowerCase();
  if (control && key === "s") save();
  else if (document.querySelector("dialog[open]")) return;
  else if (control && !typing && (key === "y" || (key === "z" && e.shiftKey))) redo();
  else if (control && !typing && key === "z") undo();
  else if (control || typing) return;
  else if (key === "escape") {
    letGo();
    choose([]);
  } else if (key === "insert") openShelf();
  else if (key === "delete") remove();
  else if (key === "+") sheet.zoom(1.25);
  else if (key === "-") sheet.zoom(0.8);
  else if (key === "0") sheet.look(null);
  else {
    const id = e.target instanceof SVGElement ? e.target.dataset.id : undefined;
    if (id && (key === "enter" || key === " ")) {
      choose(e.shiftKey ? [...new Set([...chosen, id])] : [id]);
    } else if (key.startsWith("arrow")) {
      if (e.target instanceof HTMLElement && e.target.closest("aside")) return;
      if (!chosen.length) return;
      const step = grid() * (e.shiftKey ? 10 : e.altKey ? 0.1 : 1);
      move(chosen, [step * (Number(key === "arrowright") - Number(key === "arrowleft")), step * (Number(key === "arrowup") - Number(key === "arrowdown"))]);
    } else return;
  }
  e.preventDefault();
});

// ---- what is made of it

const FILES = [
  ["template", "Template, one large page (PDF)"], ["tiles", "Template in tiles for a home printer (PDF)"], ["cutting", "Cutting file (DXF)"],
  ["drawing", "Fabrication drawing (PDF)"],
];
button("give").onclick = () => {
  const list = by("files-list");
  /** @param {string} where @param {string} words */
  const link = (where, words) => {
    const row = document.createElement("li");
    const a = document.createElement("a");
    a.href = `made/${where}`;
    a.download = "";
    a.textContent = words;
    row.append(a);
    return row;
  };
  const sheets = state.sheets.flatMap((/** @type {string} */ id, /** @type {number} */ k) => FILES.map(([kind, words]) => link(`${kind}/${k}`, k ? `${words}, ${id}` : words)));
  list.replaceChildren(...sheets, link("report/0", "Fit report (HTML)"));
  /** @type {HTMLDialogElement} */ (by("files")).showModal();
};
button("files-close").onclick = () => /** @type {HTMLDialogElement} */ (by("files")).close();
button("behind").onclick = () => {
  const one = items.get(chosen[0]);
  if (!one) return;
  by("cut-head").textContent = `Sections through ${one.id}`;
  // upright, then level
  const pages = [0, 1].map((k) => {
    const i = document.createElement("img");
    i.alt = `${k ? "Level" : "Upright"} section through ${one.id}`;
    i.src = `made/section/${one.number}/${k}?${state.revision}`;
    return i;
  });
  by("cut-pages").replaceChildren(...pages);
  /** @type {HTMLDialogElement} */ (by("cut")).showModal();
};
button("cut-close").onclick = () => /** @type {HTMLDialogElement} */ (by("cut")).close();

// ---- the shelf

/** @type {{ name: string, title: string, kind: string, words: string[] }[]} */
let shelf = [];
const box = /** @type {HTMLDialogElement} */ (by("shelf"));
function openShelf() {
  if (!shelf.length) wire.ask({ do: "catalogue" });
  box.showModal();
  input("look").focus();
}
button("add").onclick = openShelf;
button("shelf-close").onclick = () => box.close();
input("look").oninput = shelve;
function shelve() {
  const words = input("look").value.toLowerCase().split(/\s+/).filter(Boolean);
  const hits = shelf.filter((i) => words.every((w) => `${i.name} ${i.title} ${i.kind} ${i.words.join(" ")}`.toLowerCase().includes(w)));
  const rows = hits.slice(0, 100).map((i) => {
    const row = document.createElement("li");
    const b = document.createElement("button");
    b.textContent = i.title;
    const small = document.createElement("small");
    small.textContent = i.name;
    b.append(small);
    b.onclick = () => {
      box.close();
      notice(`Looking for the place with most room for ${i.title} …`, []);
      wire.ask({ do: "add", instrument: i.name });
    };
    row.append(b);
    return row;
  });
  by("shelf-list").replaceChildren(...rows);
}
