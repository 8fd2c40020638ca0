// Tracing on the photograph: the outline by lines and arcs, openings by their corners, and what of it is taken into the panel.
// @ts-check
import { button, by, dialog, notice } from "./page.js";
import { hand, hands, hear, hint, layers, news, ready, shown, tell, view, waiting } from "./photograph.js";
import { shape } from "./sheet.js";

/** What is begun and no outline or opening yet: the program holds it. */
const begun = () => view.state?.begun ?? { outline: [], through: null, opening: [] };

/** What a press says: the place, or the picked point that was pressed so near its middle that it is meant.
 * @param {number[]} at @param {number} near @param {string | null} id */
function place(at, near, id) {
  const there = picked().get(id ?? "");
  return there && Math.hypot(at[0] - there[0], at[1] - there[1]) < near / 6 ? { of: id, at } : { at };
}

hands.set("line", (at, near, id) => tell("corner", place(at, near, id)));
hands.set("arc", (at, near, id) => tell("corner", { ...place(at, near, id), arc: true }));
hands.set("opening", (at, near, id) => tell("opening-corner", { ...place(at, near, id), near }));

/** What the chosen hand does, where nothing is begun. @type {Record<string, string>} */
const HANDS = {
  point: "Press on a mark or corner whose place is known, then type its place; drag a cross to put it right.",
  hole: "Press near the rim of a round hole: its edge is found all around.",
  line: "Press on the outline's corners in order; the last leads back to the first.",
  arc: "Press on a place of the arc, then where it ends.",
  opening: "Press on the opening's corners in order, then on the first again.",
  look: "Drag to move the picture; the wheel, + and - look closer.",
};
const many = (/** @type {number} */ n) => `${n} corner${n === 1 ? "" : "s"}`;

hint.words = () => {
  const b = begun();
  const words = [];
  if (b.outline.length) words.push(`${many(b.outline.length)} of the outline; three make one.`);
  if (b.through) words.push("A place on the arc is taken: now press where the arc ends.");
  if (b.opening.length) words.push(`${many(b.opening.length)} of an opening; ${b.opening.length < 3 ? "go on round it" : "press the first again, or Close it, to close the opening"}.`);
  if (words.length) return `${words.join(" ")} Escape gives that up.`;
  return view.state?.draft ? HANDS[hand()] ?? "" : "";
};

/** Gives up what was begun. @returns {boolean} whether there was something */
function giveUp() {
  const b = begun();
  const had = b.outline.length + b.opening.length > 0 || b.through || waiting().some((m) => /corner/.test(m.act));
  if (had) tell("give-up");
  return had;
}

/** Places of what is picked, by their ids. */
function picked() {
  const picks = view.state?.draft?.photographs[view.state.photo].picks ?? [];
  return new Map(picks.filter((/** @type {any} */ k) => k.point).map((/** @type {any} */ k) => [k.point, k.at]));
}

layers.push((px) => {
  const p = view.picture;
  const m = view.state;
  if (!p || !m?.draft) return [];
  const line = (/** @type {number[][]} */ all, /** @type {boolean} */ shut) =>
    all.length < 2 ? [] : p.both("path", { d: `M${all.map((q) => q.join(" ")).join("L")}${shut ? "Z" : ""}` });
  /** @type {Element[]} */
  const out = [];
  const found = m.draft["as-found"];
  const at = picked();
  const corners = (/** @type {any[]} */ list) => (list ?? []).map((c) => at.get(c.to ?? c)).filter(Boolean);
  // what cannot be drawn as adjusted is drawn as it was clicked
  if (m.told?.outline.length) out.push(...line(m.told.outline, true));
  else out.push(...line(corners(found?.outline), false));
  if (m.told) for (const o of m.told.openings) out.push(...line(o, true));
  else for (const o of found?.openings ?? []) out.push(...line(corners(o.points), true));
  const b = begun();
  const there = (/** @type {any[]} */ all) => all.map((q) => (typeof q === "string" ? at.get(q) : q)).filter(Boolean);
  const edge = there([...b.outline.flatMap((/** @type {any} */ c) => [c.through, c.at]), b.through]);
  const opening = there(b.opening);
  out.push(...line(opening, false), ...line(edge, false));
  for (const q of [...opening, ...edge]) out.push(...[["ph-back", 4], ["ph-line", 4]].map(([c, r]) => shape("circle", { class: c, cx: q[0], cy: q[1], r: Number(r) * px })));
  return out;
});

shown.push((m) => {
  button("ph-close-opening").disabled = !(m.begun?.opening.length >= 3);
  button("ph-give-up").disabled = !(m.begun && (m.begun.outline.length || m.begun.opening.length || m.begun.through));
  const found = m.draft?.["as-found"] ?? {};
  const had = new Set(ticked());
  const row = (/** @type {string} */ value, /** @type {string} */ words, /** @type {boolean} */ on) => {
    const l = document.createElement("label");
    const i = document.createElement("input");
    i.type = "checkbox";
    i.value = value;
    i.checked = on;
    l.append(i, ` ${words}`);
    return l;
  };
  const rows = (found.openings ?? []).map((/** @type {any} */ o) => row(o.id, o.id, had.size === 0 || had.has(o.id)));
  if ((found.outline ?? []).length > 2) rows.push(row("", "the outline, in place of the sheet's own", had.has("")));
  by("ph-take-list").replaceChildren(...rows);
  button("ph-preview").disabled = !rows.length;
  by("ph-take-lines").replaceChildren();
  button("ph-take").disabled = true;
});

/** Ids of the openings that are ticked; "" is the outline. @returns {string[]} */
const ticked = () => [.../** @type {NodeListOf<HTMLInputElement>} */ (by("ph-take-list").querySelectorAll("input:checked"))].map((i) => i.value);

/** What is told goes to the panel when it is written. @type {any} */
let asked = null;

ready.push(() => {
  button("ph-close-opening").onclick = () => tell("close-opening");
  button("ph-give-up").onclick = giveUp;
  dialog("photograph").addEventListener("cancel", (e) => {
    if (giveUp()) e.preventDefault();
  });
  button("ph-preview").onclick = () => {
    const all = ticked();
    tell("preview", { openings: all.filter(Boolean), outline: all.includes("") });
  };
  button("ph-take").onclick = () => asked && tell("take", { openings: asked.openings, outline: asked.outline });
});

hear("photograph-take", (m) => {
  asked = m.again;
  by("ph-take-lines").replaceChildren(...m.lines.map((/** @type {string} */ l) => {
    const li = document.createElement("li");
    li.textContent = l;
    return li;
  }));
  news("");
  button("ph-take").disabled = false;
  button("ph-take").focus();
});
hear("photograph-taken", () => {
  asked = null;
  button("ph-take").disabled = true;
  by("ph-take-lines").replaceChildren();
  const words = "Written into the panel on the desk, as one step of its undo; Save there writes the file.";
  news(words);
  notice(words, [["Close", () => notice("", [])]]);
});
