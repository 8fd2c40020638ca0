// The photograph under the hand: zoom, pan, the loupe, what is drawn over it. All places are pixels of the picture, from its
// left and top.
// @ts-check
import { by } from "./page.js";
import { shape } from "./sheet.js";

/** @typedef {{ id: string, at: number[], to: number[] | null, aside: boolean }} Mark */
/** Pixels of the picture that the loupe shows across. */
const LOUPE = 28;
/** How far a press may wander and still be a click, pixels of the window. */
const STILL = 4;

/** @param {string} id */
const svg = (id) => /** @type {SVGSVGElement} */ (/** @type {unknown} */ (by(id)));

export class Picture {
  /** @param {{ press: (at: number[], near: number, id: string | null) => void, moved: (id: string, at: number[]) => void }} does */
  constructor(does) {
    this.does = does;
    this.svg = svg("ph-svg");
    this.image = by("ph-image");
    this.over = svg("ph-over");
    this.loupe = svg("ph-loupe");
    /** @type {number[]} width and height of the picture */
    this.size = [1, 1];
    this.href = "";
    /** @type {number[]} left, top, width, height of what is seen */
    this.seen = [0, 0, 1, 1];
    /** @type {number[]} where the keys stand */
    this.cross = [0, 0];
    this.keys = false;
    /** What is drawn, again at every zoom. @type {(pixel: number) => Element[]} */
    this.drawn = () => [];
    /** @type {{ x: number, y: number, seen: number[], id: string | null, far: boolean, at: number[] } | null} */
    this.press = null;
    this.listen();
    new ResizeObserver(() => this.draw()).observe(this.svg);
  }

  /** @param {string} href @param {number[]} size */
  show(href, size) {
    if (href === this.href) return;
    this.href = href;
    this.size = size;
    for (const [k, v] of [["href", href], ["width", size[0]], ["height", size[1]]]) this.image.setAttribute(String(k), String(v));
    this.cross = [size[0] / 2, size[1] / 2];
    const glass = shape("image", { href, width: size[0], height: size[1] });
    this.loupe.replaceChildren(glass, shape("path", { class: "ph-back", d: "" }), shape("path", { class: "ph-line", d: "" }));
    this.whole();
  }

  /** @param {number[]} seen */
  look(seen) {
    this.seen = seen;
    this.svg.setAttribute("viewBox", seen.join(" "));
    this.draw();
  }

  /** A pixel of the window in the picture's. */
  pixel() {
    const m = this.svg.getScreenCTM();
    return m ? 1 / m.a : 1;
  }

  /** A place of the window in the picture. @param {number} x @param {number} y */
  at(x, y) {
    const m = this.svg.getScreenCTM();
    return m ? [(x - m.e) / m.a, (y - m.f) / m.d] : [0, 0];
  }

  /** Closer by a factor about a place of the window. @param {number} by @param {number} x @param {number} y */
  zoom(by, x, y) {
    const [px, py] = this.at(x, y);
    const [l, t, w, h] = this.seen;
    const k = Math.min(Math.max(1 / by, 12 / w), (2 * this.size[0]) / w);
    this.look([px - (px - l) * k, py - (py - t) * k, w * k, h * k]);
  }

  /** Closer by a factor about the middle of what is seen. @param {number} by */
  closer(by) {
    const r = this.svg.getBoundingClientRect();
    this.zoom(by, r.left + r.width / 2, r.top + r.height / 2);
  }

  whole() {
    this.look([0, 0, ...this.size]);
  }

  draw() {
    const px = this.pixel();
    const cross = this.keys ? [...this.both("path", { d: star(this.cross, 14 * px) })] : [];
    this.over.replaceChildren(...this.drawn(px), ...cross);
    for (const t of this.over.querySelectorAll("text")) {
      t.setAttribute("font-size", String(14 * px));
      t.setAttribute("stroke-width", String(3 * px));
    }
    this.image.style.imageRendering = px < 0.4 ? "pixelated" : "";
  }

  /** A line that is seen on light and on dark. @param {string} name @param {Record<string, string | number>} all */
  both(name, all) {
    return [shape(name, { ...all, class: "ph-back" }), shape(name, { ...all, class: "ph-line" })];
  }

  /** Whether a place lies in the picture. @param {number[]} p */
  holds(p) {
    return p[0] >= 0 && p[1] >= 0 && p[0] <= this.size[0] && p[1] <= this.size[1];
  }

  /** The loupe at a place of the picture, beside a place of the window. @param {number[] | null} p @param {number} [x] @param {number} [y] */
  magnify(p, x = 0, y = 0) {
    this.loupe.toggleAttribute("hidden", !p || !this.holds(p));
    if (!p) return;
    this.loupe.setAttribute("viewBox", `${p[0] - LOUPE / 2} ${p[1] - LOUPE / 2} ${LOUPE} ${LOUPE}`);
    // the middle stays free, so that what is picked is seen
    const d = [[-1, 0], [1, 0], [0, -1], [0, 1]].map(([a, b]) => `M${p[0] + a} ${p[1] + b}L${p[0] + a * LOUPE} ${p[1] + b * LOUPE}`).join("");
    for (const e of this.loupe.querySelectorAll("path")) e.setAttribute("d", d);
    const r = this.svg.getBoundingClientRect();
    const side = 174;
    const left = x - r.left + 30 + side > r.width ? x - r.left - 30 - side : x - r.left + 30;
    const top = y - r.top + 30 + side > r.height ? y - r.top - 30 - side : y - r.top + 30;
    this.loupe.style.left = `${left}px`;
    this.loupe.style.top = `${top}px`;
  }

  listen() {
    const s = this.svg;
    s.onwheel = (e) => {
      e.preventDefault();
      this.zoom(Math.exp(-e.deltaY / 400), e.clientX, e.clientY);
    };
    s.onpointerdown = (e) => {
      if (e.button) return;
      s.setPointerCapture(e.pointerId);
      this.keys = false;
      const id = /** @type {SVGElement} */ (e.target).dataset?.id ?? null;
      this.press = { x: e.clientX, y: e.clientY, seen: this.seen, id, far: false, at: this.at(e.clientX, e.clientY) };
    };
    s.onpointermove = (e) => {
      const p = this.press;
      const here = this.at(e.clientX, e.clientY);
      if (p && (p.far || Math.hypot(e.clientX - p.x, e.clientY - p.y) > STILL)) {
        p.far = true;
        if (!p.id) {
          const px = this.pixel();
          const [l, t, w, h] = p.seen;
          this.look([l - (e.clientX - p.x) * px, t - (e.clientY - p.y) * px, w, h]);
          this.magnify(null);
          return;
        }
      }
      this.magnify(here, e.clientX, e.clientY);
    };
    s.onpointerup = (e) => {
      const p = this.press;
      this.press = null;
      if (!p) return;
      const here = this.at(e.clientX, e.clientY);
      if (p.id && p.far) this.does.moved(p.id, here);
      else if (!p.far && (p.id || this.holds(here))) this.does.press(here, 12 * this.pixel(), p.id);
    };
    s.onpointercancel = () => (this.press = null);
    s.onpointerleave = () => this.magnify(null);
    s.onkeydown = (e) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
      if (e.key === "+" || e.key === "-" || way || e.key === "Enter") e.preventDefault();
      const m = s.getScreenCTM();
      const [x, y] = m ? [this.cross[0] * m.a + m.e, this.cross[1] * m.d + m.f] : [0, 0];
      if (e.key === "+" || e.key === "-") this.zoom(e.key === "+" ? 1.5 : 1 / 1.5, x, y);
      if (e.key === "Enter") this.does.press(this.cross, 12 * this.pixel(), null);
      if (!way) return;
      const by = (e.shiftKey ? 10 : 1) * Math.max(0.1, Math.min(1, this.pixel()));
      this.cross = this.cross.map((v, k) => Math.min(Math.max(v + way[k] * by, 0), this.size[k]));
      this.keys = true;
      this.draw();
      this.magnify(this.cross, x, y);
    };
  }
}

/** A cross about a place, its middle free. @param {number[]} p @param {number} r */
export function star(p, r) {
  return [[-1, 0], [1, 0], [0, -1], [0, 1]].map(([a, b]) => `M${p[0] + a * r * 0.25} ${p[1] + b * r * 0.25}L${p[0] + a * r} ${p[1] + b * r}`).join("");
}

/** An arrow. @param {number[]} a @param {number[]} b @param {number} head */
export function arrow(a, b, head) {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [u, v] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const wing = (/** @type {number} */ s) => `M${b[0]} ${b[1]}L${b[0] - head * u + s * head * 0.4 * v} ${b[1] - head * v - s * head * 0.4 * u}`;
  return `M${a[0]} ${a[1]}L${b[0]} ${b[1]}${wing(1)}${wing(-1)}`;
}
