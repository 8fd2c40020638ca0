// The section through what is chosen: up and down, across, or both where there is room. One request at a time, the newest next.
// @ts-check
import { desk } from "./desk.js";
import { button, by } from "./page.js";
import { shape } from "./sheet.js";

/** Pixels of the screen for a millimetre of the drawing, small and large: its smallest letters are 2 mm high. */
const PIXELS = [4.6, 5.5];

export class Cuts {
  /** @param {HTMLElement} room @param {HTMLElement} words @param {(name: string) => void} take */
  constructor(room, words, take) {
    this.room = room;
    this.words = words;
    this.upright = true;
    /** Whether both are shown. */
    this.both = false;
    /** @type {{ item: import("./desk.js").Placed | undefined, finding: import("./behind.js").Found | null } | null} */
    this.want = null;
    this.busy = false;
    /** What is shown: nothing is asked for twice. */
    this.shown = "";
    room.addEventListener("click", (e) => {
      const name = /** @type {Element} */ (e.target).closest("[data-subject]")?.getAttribute("data-subject");
      if (name) take(name);
    });
    for (const id of ["cut-upright", "cut-level"]) {
      button(id).onclick = () => {
        this.upright = id === "cut-upright";
        this.stale();
        if (this.last) this.show(this.last.item, this.last.finding);
      };
    }
    this.last = this.want;
  }

  /** What is shown is no longer so. */
  stale() {
    this.shown = "";
  }

  /** @param {import("./desk.js").Placed | undefined} item @param {import("./behind.js").Found | null} finding */
  show(item, finding) {
    this.last = { item, finding };
    this.want = this.last;
    if (!this.busy) this.next();
  }

  async next() {
    this.busy = true;
    while (this.want) {
      const { item, finding } = this.want;
      this.want = null;
      try {
        await this.draw(item, finding);
      } catch (e) {
        this.clear(`The section cannot be drawn: ${e instanceof Error ? e.message : e}`);
      }
    }
    this.busy = false;
  }

  /** @param {string} words */
  clear(words) {
    this.room.replaceChildren();
    this.words.textContent = words;
    by("cut-paper").hidden = true;
  }

  /** @param {import("./desk.js").Placed | undefined} item @param {import("./behind.js").Found | null} finding */
  async draw(item, finding) {
    button("cut-upright").setAttribute("aria-pressed", String(this.both || this.upright));
    button("cut-level").setAttribute("aria-pressed", String(this.both || !this.upright));
    for (const id of ["cut-upright", "cut-level"]) button(id).disabled = this.both;
    const place = finding?.space ?? null;
    if (!item && !place) {
      this.shown = "";
      return this.clear(desk.chosen.length > 1 ? "Choose one item alone: the section goes through it." : "Choose an item or a finding: the section goes through it.");
    }
    const ways = this.both ? [true, false] : [this.upright];
    const { width, height } = this.room.getBoundingClientRect();
    if (width < 40 || height < 40) return;
    const px = PIXELS[Number(this.both)];
    const wide = Math.max(20, Math.min(1000, (width - 24) / ways.length / px)).toFixed(1);
    const tall = Math.max(20, Math.min(1000, (height - (this.both ? 20 : 0)) / px)).toFixed(1);
    const asked = ways.map((upright) => {
      // through the place of a finding, halfway between its points
      const at = place ? (place.points[0][upright ? 0 : 1] + place.points[1][upright ? 0 : 1]) / 2 : null;
      return `made/behind/section/${desk.state.revision}/${item ? item.number : "-"}/${upright ? "upright" : "level"}/${at === null ? "-" : at.toFixed(3)}/${wide}/${tall}`;
    });
    const key = `${asked} ${finding?.id ?? ""}`;
    if (key === this.shown) return;
    /** @type {string[]} */
    const says = [];
    /** @type {HTMLElement[]} */
    const figures = [];
    for (const [k, address] of asked.entries()) {
      const answer = await fetch(address);
      if (!answer.ok) throw new Error((await answer.text()).slice(0, 160));
      const cut = await answer.json();
      if (cut.stale) return; // the next state draws it
      figures.push(figure(cut, ways[k], place));
      says.push(cut.line, ...(cut.least ? [cut.least] : []));
      if (cut.lacking.length) says.push(`Not drawn, missing: ${cut.lacking.join("; ")}`);
    }
    if (this.want) return; // something else was chosen meanwhile
    this.shown = key;
    this.room.replaceChildren(...figures);
    this.words.textContent = [...new Set(says)].map((s) => s.replace(/\.$/, "")).join(". ") + ".";
    const paper = /** @type {HTMLAnchorElement} */ (by("cut-paper"));
    paper.hidden = !item;
    if (item) paper.href = `made/section/${item.number}/${this.upright ? 0 : 1}`;
  }
}

/** @param {{ svg: string, scale: number, shift: number[], height: number, seen: string, line: string }} cut @param {boolean} upright
 * @param {import("./behind.js").Place | null} place */
function figure(cut, upright, place) {
  const all = document.createElement("figure");
  const doc = new DOMParser().parseFromString(cut.svg, "image/svg+xml");
  const svg = document.importNode(doc.documentElement, true);
  // two sections stand on one page: names are not doubled
  for (const e of svg.querySelectorAll("[id]")) e.id = `${upright ? "u" : "l"}-${e.id}`;
  svg.removeAttribute("aria-labelledby");
  svg.setAttribute("aria-label", `Section ${cut.line}, ${cut.seen}`);
  if (place) {
    // depth runs the other way than towards the pilot
    const [a, b] = place.points.map(([x, y, z]) => (upright ? [-z, y] : [x, -z])).map(([u, v]) => [u * cut.scale + cut.shift[0], cut.height - (v * cut.scale + cut.shift[1])]);
    const cross = (/** @type {number[]} */ p) => `M${p[0] - 1.4} ${p[1] - 1.4}l2.8 2.8m0 -2.8l-2.8 2.8`;
    svg.append(shape("path", { class: "place", d: `M${a}L${b}${cross(a)}${cross(b)}` }));
  }
  const words = document.createElement("figcaption");
  words.textContent = cut.seen;
  all.append(svg, words);
  return all;
}
