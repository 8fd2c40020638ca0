// The sheet on the board: the drawing, what lies over it, pan and zoom. Panel coordinates are mm with y up; the drawing's are
// its own mm with y down.
// @ts-check

const SVG = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string | number>} [all] */
export function shape(name, all = {}) {
  const e = document.createElementNS(SVG, name);
  for (const [k, v] of Object.entries(all)) e.setAttribute(k, String(v));
  return e;
}

/** @param {string} id */
const layer = (id) => /** @type {SVGGElement} */ (/** @type {unknown} */ (document.getElementById(id)));

export class Sheet {
  constructor() {
    this.view = /** @type {HTMLElement} */ (document.getElementById("view"));
    this.over = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.getElementById("over")));
    this.scale = 1;
    this.shift = [0, 0];
    this.size = [100, 100];
    /** @type {number[] | null} left, top, width, height of what is seen */
    this.seen = null;
    this.drawn = "";
    /** What else lies on the desk, laid again whenever the look changes. @type {(() => void)[]} */
    this.laid = [];
    /** @type {Map<string, Element[]>} */
    this.parts = new Map();
    /** Boxes of the drawing's own words, its mm: words beside arrows stay off them. Worked out when first asked for. @type {number[][] | null} */
    this.names = null;
    /** Where the drawing stands in the window; asked for once, as asking has the whole page laid out. @type {DOMMatrix | null} */
    this.place = null;
    /** Height of letters over the sheet, pixels: on a small desk large ones would hide it. */
    this.type = 15;
    new ResizeObserver(() => {
      this.type = Math.min(Math.max(this.over.clientWidth / 75, 13), 22);
      this.letters();
    }).observe(this.over);
  }

  /** @param {{ svg: string, scale: number, shift: number[], width: number, height: number }} v */
  draw(v) {
    this.scale = v.scale;
    this.shift = v.shift;
    if (this.size[0] !== v.width || this.size[1] !== v.height) this.seen = null;
    this.size = [v.width, v.height];
    if (v.svg !== this.drawn) {
      this.drawn = v.svg;
      const doc = new DOMParser().parseFromString(v.svg, "image/svg+xml");
      this.view.replaceChildren(document.importNode(doc.documentElement, true));
      this.parts = new Map();
      this.names = null;
      for (const e of this.view.querySelectorAll("[data-subject]")) {
        const id = /** @type {string} */ (e.getAttribute("data-subject"));
        this.parts.set(id, [...(this.parts.get(id) ?? []), e]);
      }
    }
    this.look(this.seen);
  }

  /** @param {number[] | null} seen */
  look(seen) {
    this.seen = seen;
    this.place = null;
    const [x, y, w, h] = seen ?? [0, 0, ...this.size];
    for (const s of [this.view.firstElementChild, this.over]) s?.setAttribute("viewBox", `${x} ${y} ${w} ${h}`);
    for (const l of this.laid) l();
    this.letters();
  }

  /** Closer by a factor about a point of the window, and pushed by pixels. @param {number} by @param {number} [cx] @param {number} [cy] @param {number[]} [push] */
  zoom(by, cx, cy, push = [0, 0]) {
    const [x, y, w, h] = this.seen ?? [0, 0, ...this.size];
    const r = this.over.getBoundingClientRect();
    const p = this.drawing(cx ?? r.left + r.width / 2, cy ?? r.top + r.height / 2);
    const k = Math.min(Math.max(1 / by, (0.02 * this.size[0]) / w), (4 * this.size[0]) / w);
    const pixel = this.pixel() * k;
    this.look([p.x - (p.x - x) * k - push[0] * pixel, p.y - (p.y - y) * k - push[1] * pixel, w * k, h * k]);
  }

  /** By pixels. @param {number} dx @param {number} dy */
  pan(dx, dy) {
    const [x, y, w, h] = this.seen ?? [0, 0, ...this.size];
    this.look([x - dx * this.pixel(), y - dy * this.pixel(), w, h]);
  }

  /** From the drawing to the window. */
  matrix() {
    this.place ??= this.over.getScreenCTM();
    return this.place;
  }

  /** A pixel of the window in the drawing's mm. */
  pixel() {
    const m = this.matrix();
    return m ? 1 / m.a : 1;
  }

  /** A point of the window in the drawing. @param {number} x @param {number} y */
  drawing(x, y) {
    const m = this.matrix();
    return m ? { x: (x - m.e) / m.a, y: (y - m.f) / m.d } : { x, y };
  }

  /** A point of the window on the panel, mm. @param {number} x @param {number} y */
  panel(x, y) {
    const p = this.drawing(x, y);
    return [(p.x - this.shift[0]) / this.scale, (this.size[1] - p.y - this.shift[1]) / this.scale];
  }

  /** A point of the panel in the drawing. @param {number[]} p */
  at(p) {
    return [p[0] * this.scale + this.shift[0], this.size[1] - (p[1] * this.scale + this.shift[1])];
  }

  /** Moves what belongs to an item, in the panel's mm; nothing with none. @param {string} id @param {number[] | null} by */
  carry(id, by) {
    const t = by && `translate(${by[0] * this.scale} ${-by[1] * this.scale})`;
    for (const e of [...(this.parts.get(id) ?? []), ...this.over.querySelectorAll(`.item[data-id="${CSS.escape(id)}"]`)]) {
      // letters that are turned have a transform of their own
      const own = /** @type {SVGElement} */ (e).dataset.own ?? e.getAttribute("transform") ?? "";
      /** @type {SVGElement} */ (e).dataset.own = own;
      if (t) e.setAttribute("transform", `${t} ${own}`);
      else if (own) e.setAttribute("transform", own);
      else e.removeAttribute("transform");
    }
  }

  /** @param {string | null} path in the panel's axes */
  region(path) {
    const [x, y] = this.at([0, 0]);
    const all = path ? [shape("path", { d: path, transform: `matrix(${this.scale} 0 0 ${-this.scale} ${x} ${y})`, "fill-rule": "evenodd" })] : [];
    layer("region").replaceChildren(...all);
  }

  /** Draws what an item came to rest on, with its name. @param {import("./snap.js").Rest[]} rests x and y @param {number[]} [place] where its reference point is, mm */
  snaps(rests, place = [0, 0]) {
    const [x, y] = this.at(place);
    const px = this.pixel();
    const [left, top, wide, tall] = this.seen ?? [0, 0, ...this.size];
    const both = rests.length === 2 && rests[0].words === rests[1].words;
    const all = rests.flatMap((r, axis) => {
      if (r.line === null) return [];
      const g = shape("g", { "data-snap": r.kind });
      const [lx, ly] = this.at([r.line, r.line]);
      // a line of the grid is no more than a mark at the place
      const [ends, more] = r.kind === "grid" ? [14 * px, 14 * px] : [wide + this.size[0], tall + this.size[1]];
      g.append(shape("line", axis ? { x1: x - ends, x2: x + ends, y1: ly, y2: ly } : { x1: lx, x2: lx, y1: y - more, y2: y + more }));
      for (const gap of r.gaps) g.append(...this.gap(axis, gap, axis ? x : y));
      if (!(axis && both)) {
        const [tx, ty] = r.kind === "grid" || both ? [x + 18 * px, y - 18 * px] : axis ? [left + 8 * px, ly - 5 * px] : [lx + 5 * px, top + tall - 10 * px];
        // no word ends outside of what is seen
        const most = left + wide - (0.62 * r.words.length * this.type + 8) * px;
        const t = shape("text", { x: Math.max(Math.min(tx, most), left), y: ty });
        t.textContent = r.words;
        g.append(t);
      }
      return [g];
    });
    layer("snaps").replaceChildren(...all);
    this.letters(layer("snaps"));
  }

  /** A gap that is equal to another one: from end to end, with a stroke across each. @param {number} axis @param {number[]} gap mm @param {number} across the drawing's mm */
  gap(axis, gap, across) {
    const [a, b] = gap.map((v) => this.at([v, v])[axis]);
    const half = 7 * this.pixel();
    /** @param {number} u0 @param {number} v0 @param {number} u1 @param {number} v1 */
    const stroke = (u0, v0, u1, v1) => shape("line", axis ? { class: "gap", x1: v0, y1: u0, x2: v1, y2: u1 } : { class: "gap", x1: u0, y1: v0, x2: u1, y2: v1 });
    return [stroke(a, across, b, across), ...[a, b].map((u) => stroke(u, across - half, u, across + half))];
  }

  /** @param {import("./findings.js").Finding[]} findings */
  arrows(findings) {
    /** @type {number[][]} boxes of words that stand already, the drawing's mm */
    const taken = [];
    const all = findings.map((f) => {
      const [a, b] = f.at.map((p) => this.at(p));
      const g = shape("g", { "data-verdict": f.verdict });
      g.append(shape("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1] }));
      // a short stroke across each end, as on a drawing
      const d = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
      const n = [-(b[1] - a[1]) / d, (b[0] - a[0]) / d];
      for (const p of [a, b]) g.append(shape("line", { x1: p[0] - n[0], y1: p[1] - n[1], x2: p[0] + n[0], y2: p[1] + n[1] }));
      // the unit stands with the measured value, once
      const asked = f["asked-words"]?.replace(/ (mm|in|deg)$/, "");
      const words = `${f.words} (asked ${asked})${f.verdict === "pass" ? "" : " " + f.verdict.toUpperCase()}`;
      const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const [x, y] = this.beside(middle, words, taken);
      const box = taken[taken.length - 1];
      const near = [0, 1].map((k) => Math.min(Math.max(middle[k], box[k]), box[k + 2]));
      if (Math.hypot(near[0] - middle[0], near[1] - middle[1]) > 12 * this.pixel()) {
        g.append(shape("line", { class: "leader", x1: middle[0], y1: middle[1], x2: near[0], y2: near[1] }));
      }
      const t = shape("text", { x, y });
      t.textContent = words;
      g.append(t);
      return g;
    });
    layer("arrows").replaceChildren(...all);
    this.letters(layer("arrows"));
  }

  /** Where words about a place hide least: nothing of what was said already, little of the drawing's own words, and near.
   * @param {number[]} at @param {string} words @param {number[][]} taken */
  beside(at, words, taken) {
    const px = this.pixel();
    const [w, h] = [words.length * 0.55 * this.type * px, 1.14 * this.type * px];
    this.names ??= [...this.view.querySelectorAll("text")].map((t) => t.getBBox()).map((b) => [b.x, b.y, b.x + b.width, b.y + b.height]);
    const reach = [at[0] - 2 * w, at[1] - 12 * h, at[0] + 2 * w, at[1] + 12 * h];
    const names = this.names.filter((b) => shared(b, reach) > 0);
    const seen = this.seen ?? [0, 0, ...this.size];
    /** @type {number[]} */
    let best = [];
    let least = Infinity;
    for (let ring = 0; ring < 9; ring++) {
      // farther away costs as much as a part of the words' own area
      const far = ring * 0.04 * w * h;
      if (far >= least) break;
      const [dx, dy] = [(4 + 9 * ring) * px, 2 * px + ring * h];
      for (const x of [at[0] + dx, at[0] - dx - w, at[0] - w / 2]) {
        for (const y of [at[1] - dy - h, at[1] + dy]) {
          const box = [x, y, x + w, y + h];
          const out = w * h - shared(box, [seen[0], seen[1], seen[0] + seen[2], seen[1] + seen[3]]);
          /** @param {number[][]} boxes */
          const hides = (boxes) => boxes.reduce((sum, b) => sum + shared(box, b), 0);
          const cost = 4 * out + 8 * hides(taken) + hides(names) + far;
          if (cost < least) [best, least] = [box, cost];
        }
      }
    }
    taken.push(best);
    // a text stands on its foot
    return [best[0], best[3] - 4 * px];
  }

  /** Letters over the sheet keep their size on the screen. @param {Element} [within] */
  letters(within) {
    if (!within) this.place = null;
    for (const t of (within ?? this.over).querySelectorAll("text")) t.setAttribute("font-size", String(this.type * this.pixel()));
  }
}

/** The area that two boxes share. @param {number[]} a @param {number[]} b */
function shared(a, b) {
  return Math.max(0, Math.min(a[2], b[2]) - Math.max(a[0], b[0])) * Math.max(0, Math.min(a[3], b[3]) - Math.max(a[1], b[1]));
}
