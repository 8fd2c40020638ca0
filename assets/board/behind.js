// What is behind the panel: the pane under the findings with its two faces, a section and all solids. Nothing is asked of the
// server and nothing drawn while a hand holds an item, and nothing of the solids is loaded before they are looked at.
// @ts-check
import { choose, desk, findings, news, one } from "./desk.js";
import { Drivers } from "./drivers.js";
import { by, button } from "./page.js";
import { Cuts } from "./section.js";

/** @typedef {{ points: number[][], pose: [number, number][] | null }} Place where in space a finding was measured, x, y and towards the pilot */
/** @typedef {import("./findings.js").Finding & { space?: Place | null }} Found */

const pane = by("behind-pane");
const cuts = new Cuts(by("cut-views"), by("cut-words"), take);
const drivers = new Drivers();
/** The view of the solids, once it was looked at. @type {import("./solid.js").Solid | null} */
let solid = null;
/** @type {Promise<unknown> | null} */
let loading = null;
let face = "section";
/** The finding that was chosen, while its items are. @type {Found | null} */
let finding = null;
let chosen = "[]";
/** The hand has been still for so long, ms, before what it holds is moved among the solids. */
const STILL = 200;

export const behind = { get solid() { return solid; }, drivers, get face() { return face; } };
Object.assign(window, { behind });

/** Chooses what a part belongs to, where that lies on the sheet. @param {string} name of a part or subject @returns {boolean} */
function take(name) {
  const id = owner(name);
  if (id) choose([id]);
  return !!id;
}

/** The item that a part belongs to. @param {string} name */
function owner(name) {
  for (let id = name; id; id = id.slice(0, Math.max(0, id.lastIndexOf(".")))) if (desk.items.has(id)) return id;
  return null;
}

/** Shows what is chosen, on the face that is seen. */
function follow() {
  if (desk.held || pane.hasAttribute("data-folded")) return;
  if (face === "section") cuts.show(one(), finding);
  else solid?.choose(desk.chosen);
}

news.addEventListener("chosen", () => {
  const now = JSON.stringify(desk.chosen);
  if (now !== chosen) finding = null;
  chosen = now;
  follow();
});
news.addEventListener("finding", (e) => {
  finding = /** @type {CustomEvent<Found>} */ (e).detail;
  follow();
  if (face === "solid") drivers.place(finding);
});
news.addEventListener("state", () => {
  finding = (finding && findings.all.get(finding.id)) ?? null;
  cuts.stale();
  follow();
  refresh();
});

/** The solids as the panel stands now; where nobody looks, later. */
function refresh() {
  if (face !== "solid" || pane.hasAttribute("data-folded") || desk.held) return;
  loading ??= import("./solid.js").then(({ Solid }) => {
    solid = new Solid(take, drivers);
    Object.assign(by("solid"), { view: solid });
  });
  loading.then(() => solid?.load(desk.state.revision)).then(() => {
    solid?.choose(desk.chosen);
    drivers.place(finding);
  }, (/** @type {Error} */ e) => {
    by("solid-none").hidden = false;
    by("solid-none").textContent = `The solids cannot be shown: ${e.message}. The section shows the same solids.`;
  });
}

/** @param {string} which */
function turn(which) {
  face = which;
  for (const f of ["section", "solid"]) {
    by(`${f}-face`).hidden = f !== which;
    button(`face-${f}`).setAttribute("aria-pressed", String(f === which));
  }
  pane.dataset.face = which;
  fold(false);
}

/** @param {boolean} folded */
function fold(folded) {
  pane.toggleAttribute("data-folded", folded);
  button("behind-fold").setAttribute("aria-expanded", String(!folded));
  button("behind-fold").textContent = folded ? "Unfold" : "Fold";
  if (folded) large(false);
  follow();
  refresh();
}

/** @param {boolean} wide */
function large(wide) {
  pane.toggleAttribute("data-large", wide);
  button("behind-large").setAttribute("aria-pressed", String(wide));
  cuts.both = wide;
  cuts.stale();
  follow();
}

button("face-section").onclick = () => turn("section");
button("face-solid").onclick = () => turn("solid");
button("behind-fold").onclick = () => fold(!pane.hasAttribute("data-folded"));
button("behind-large").onclick = () => {
  const wide = !pane.hasAttribute("data-large");
  if (wide) fold(false);
  large(wide);
};
button("behind").onclick = () => {
  turn("section");
  large(true);
};
pane.addEventListener("keydown", (e) => {
  if (e.key !== "Escape" || !pane.hasAttribute("data-large")) return;
  large(false);
  button("behind-large").focus();
  e.stopPropagation();
});
new ResizeObserver(() => {
  cuts.stale();
  follow();
}).observe(by("cut-views"));

// what the hand holds goes along when it rests; let go, all stands where the panel says
let still = 0;
addEventListener("pointermove", () => {
  if (!desk.held?.moved || !solid) return;
  clearTimeout(still);
  still = window.setTimeout(() => {
    const { held } = desk;
    if (!held || face !== "solid") return;
    solid?.carry(held.follow.map(([id, [xx, xy, yx, yy]]) => [id, [xx * held.by[0] + yx * held.by[1], xy * held.by[0] + yy * held.by[1]]]));
  }, STILL);
});
for (const end of ["pointerup", "pointercancel"]) {
  // behind the handler that lets go
  addEventListener(end, () => setTimeout(() => {
    solid?.carry([]);
    follow();
  }));
}
