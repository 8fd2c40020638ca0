// Tracing on the photograph: the outline by lines and arcs, openings by their corners, and what of it is taken into the panel.
// @ts-check
import { wire } from "./desk.js";
import { button, by, dialog, notice } from "./page.js";
import { hands, layers, news, ready, shown, tell, view } from "./photograph.js";
import { shape } from "./sheet.js";

/** Places that were clicked and are no corner yet: of an opening, or on an arc. @type {number[][]} */
let begun = [];

/** Corners of an outline that has not three yet: two are none. @type {{ at: number[], through?: number[] }[]} */
let first = [];

/** @param {{ at: number[], through?: number[] }} c */
function corner(c) {
  begun = [];
  const has = view.state?.draft?.["as-found"]?.outline?.length ?? 0;
  first.push(c);
  if (has + first.length < 3) {
    news(`${first.length} corner${first.length === 1 ? "" : "s"} of the outline; three make one. Escape gives them up.`);
    view.picture?.draw();
    return;
  }
  tell("corners", { corners: first });
  first = [];
}
hands.set("line", (at) => corner({ at }));
hands.set("arc", (at) => {
  if (begun.length) return corner({ at, through: begun[0] });
  begun = [at];
  news("A place on the arc is taken: now click where the arc ends.");
  view.picture?.draw();
});
hands.set("opening", (at, near) => {
  const closes = begun.length > 2 && Math.hypot(at[0] - begun[0][0], at[1] - begun[0][1]) < near;
  if (!closes) {
    begun.push(at);
    news(`${begun.length} corner${begun.length === 1 ? "" : "s"} of an opening; ${begun.length < 3 ? "go on round it" : "click the first again, or Close it below, to close the opening"}. Escape gives them up.`);
    view.picture?.draw();
    button("ph-close-opening").disabled = begun.length < 3;
    return;
  }
  close();
});

/** The opening that was begun is one. */
function close() {
  if (begun.length < 3) return;
  const corners = begun;
  begun = [];
  button("ph-close-opening").disabled = true;
  tell("opening", { corners });
}

/** Gives up what was begun. @returns {boolean} whether there was something */
function giveUp() {
  const had = begun.length + first.length > 0;
  begun = [];
  first = [];
  button("ph-close-opening").disabled = true;
  view.picture?.draw();
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
  const edge = first.flatMap((c) => [...(c.through ? [c.through] : []), c.at]);
  out.push(...line(begun, false), ...line(edge, false));
  for (const q of [...begun, ...edge]) out.push(...[["ph-back", 4], ["ph-line", 4]].map(([c, r]) => shape("circle", { class: c, cx: q[0], cy: q[1], r: Number(r) * px })));
  return out;
});

shown.push((m) => {
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
  button("ph-close-opening").onclick = close;
  dialog("photograph").addEventListener("cancel", (e) => {
    if (giveUp()) e.preventDefault();
  });
  button("ph-preview").onclick = () => {
    const all = ticked();
    tell("preview", { openings: all.filter(Boolean), outline: all.includes("") });
  };
  button("ph-take").onclick = () => asked && wire.ask({ ...asked, act: "take" });
});

wire.on.set("photograph-take", (m) => {
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
wire.on.set("photograph-taken", () => {
  asked = null;
  button("ph-take").disabled = true;
  by("ph-take-lines").replaceChildren();
  const words = "Written into the panel on the desk, as one step of its undo; Save there writes the file.";
  news(words);
  notice(words, [["Close", () => notice("", [])]]);
});
