// The controls moved by hand: a slider for every driver, how near they come to anything as they stand, and the pose of the least
// clearance. Where they stand and how near they come is worked out by the server.
// @ts-check
import { findings, wire } from "./desk.js";
import { button, by } from "./page.js";

/** @typedef {{ id: string, unit: string, low: number, high: number, rest: number, stops: number[], over: boolean }} Driver */
/** @typedef {{ points: number[][], words: string }} Mark a place in space with the words beside it */

/** So long after the last change the gap is asked again if it is not of that pose, ms. */
const STILL = 120;

/** The buttons that go to a least clearance: of what is new or moved, of what stays. */
const LEAST = ["gap-least", "gap-staying"];

export class Drivers {
  constructor() {
    /** @type {Driver[]} */
    this.all = [];
    /** @type {number[]} */
    this.at = [];
    /** @type {((matrices: number[][]) => void) | null} */
    this.moved = null;
    /** @type {((mark: Mark | null) => void) | null} */
    this.marked = null;
    /** The finding that leaves least room to what is new or moved, and that between what is there and stays. @type {(string | null)[]} */
    this.worst = [null, null];
    this.n = 0;
    /** The pose whose matrices are on their way. */
    this.asking = 0;
    this.again = false;
    /** The pose whose gap is on its way, and the last that came. */
    this.measuring = 0;
    this.timer = 0;
    /** @type {any} what was told last of a pose */
    this.gap = null;
    /** @type {import("./behind.js").Found | null} whose place is shown */
    this.shown = null;
    wire.on.set("pose", (m) => this.posed(m));
    wire.on.set("gap", (m) => this.measured(m));
    for (const [k, id] of LEAST.entries()) {
      button(id).onclick = () => {
        const f = this.least(k);
        if (f) this.place(f);
      };
    }
  }

  /** The finding that leaves a control the least room over its travel. @param {number} k 0: of what is new or moved, 1: of what stays
   * @returns {import("./behind.js").Found | undefined} */
  least(k) {
    return findings.all.get(this.worst[k] ?? "");
  }

  /** Takes the drivers of a panel; those that stood somewhere stay there. @param {Driver[]} all @param {(string | null)[]} worst */
  take(all, ...worst) {
    const before = new Map(this.all.map((d, k) => [d.id, this.at[k]]));
    const same = JSON.stringify(all) === JSON.stringify(this.all);
    this.all = all;
    this.at = all.map((d) => Math.min(Math.max(before.get(d.id) ?? d.rest, d.low), d.high));
    this.worst = worst;
    this.shown = null;
    by("drivers-part").hidden = !all.length;
    if (!same) by("drivers").replaceChildren(...all.map((d, k) => this.row(d, k)));
    const said = LEAST.map((id, k) => {
      const f = this.least(k);
      button(id).disabled = !f;
      return f ? `${f.words ?? "not certain"}, ${f.b ? `${f.a} and ${f.b}` : f.a}, ${k ? "reported, not judged" : f.verdict}` : "no finding tells one";
    });
    by("gap-travel").textContent = `Least over the whole travel of what is new or moved: ${said[0]}. Between what is there already and stays: ${said[1]}.`;
    this.tell();
    if (all.length) this.ask();
  }

  /** @param {Driver} d @param {number} k */
  row(d, k) {
    const row = document.createElement("div");
    const label = document.createElement("label");
    const slider = document.createElement("input");
    const out = document.createElement("output");
    const range = document.createElement("small");
    Object.assign(slider, { type: "range", id: `driver-${k}`, min: String(d.low), max: String(d.high), step: "any" });
    label.htmlFor = slider.id;
    label.textContent = d.id;
    const n = (/** @type {number} */ v) => String(Math.round(v * 10) / 10).replace("-", "\u2212");
    const past = d.low < d.stops[0] || d.high > d.stops[1];
    range.textContent = `${n(d.low)} to ${n(d.high)} ${d.unit}${past ? `, stops at ${n(d.stops[0])} and ${n(d.stops[1])}` : ""}${d.over ? "" : ", how far past its stops not said"}`;
    slider.oninput = () => this.set(k, Number(slider.value));
    row.append(label, slider, out, range);
    return row;
  }

  /** @param {number} k @param {number} v */
  set(k, v) {
    this.at[k] = v;
    this.shown = null;
    this.marked?.(null);
    this.tell();
    this.ask();
  }

  /** The sliders as they stand. */
  tell() {
    this.all.forEach((d, k) => {
      const row = by("drivers").children[k];
      const slider = /** @type {HTMLInputElement} */ (row?.querySelector("input"));
      if (!slider) return;
      const v = this.at[k];
      if (Number(slider.value) !== v) slider.value = String(v);
      const words = `${(Math.round(v * 10) / 10).toFixed(1)} ${d.unit}`;
      slider.setAttribute("aria-valuetext", words);
      /** @type {HTMLOutputElement} */ (row.querySelector("output")).value = words;
    });
  }

  ask() {
    this.n += 1;
    if (this.asking) {
      this.again = true;
      return;
    }
    this.again = false;
    this.asking = this.n;
    const gap = !this.measuring;
    if (gap) this.measuring = this.n;
    wire.ask({ do: "pose", n: this.n, drivers: this.at, gap });
  }

  /** @param {{ n: number, matrices: number[][] | null }} m */
  posed(m) {
    this.asking = 0;
    if (!m.matrices) this.measuring = 0;
    else this.moved?.(m.matrices);
    if (this.again) this.ask();
    else this.rest();
  }

  /** Asks how near they come where they rest, if what was told is of elsewhere. */
  rest() {
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => {
      if (!this.asking && !this.measuring && this.gap?.n !== this.n) this.ask();
    }, STILL);
  }

  /** @param {any} m */
  measured(m) {
    if (m.n === this.measuring) this.measuring = 0;
    this.gap = m;
    const b = document.createElement("b");
    b.textContent = m.words;
    by("gap-now").replaceChildren("As they stand: ", b, m.n === this.n ? "" : " …");
    // the place of a finding is told by the finding
    if (!this.shown && m.n === this.n) this.marked?.(m.points && { points: m.points, words: m.gap > 0 ? m.words.split(",")[0] : "they meet" });
    if (m.n !== this.n) this.rest();
  }

  /** Moves the controls to where a finding was measured, and shows its points. @param {import("./behind.js").Found | null} f */
  place(f) {
    const place = f?.space;
    if (!f || !place) return;
    this.shown = f;
    for (const [k, v] of place.pose ?? []) this.at[k] = v;
    this.tell();
    if (this.all.length) this.ask();
    const [a, b] = place.points;
    const far = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
    this.marked?.({ points: place.points, words: f.words ?? `${far.toFixed(2)} mm` });
  }
}
