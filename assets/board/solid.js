// All solids, to be looked at from any side: turned by mouse, fingers and keys. Drawn only when something changed.
// @ts-check
import { Mesh, OrbitControls, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer } from "./vendor/three.js";
import { light, line, mix, plain } from "./ink.js";
import { by, button, input } from "./page.js";
import { solids } from "./solids.js";

/** Where each view looks from: as seen from there the way to the eye, in x, y and towards the pilot. */
const VIEWS = { seat: [0, 0.12, 1], side: [1, 0, 0], above: [0, 1, 1e-4], ahead: [0, 0.12, -1] };
const KEYS = /** @type {const} */ (["seat", "side", "above", "ahead"]);
/** What is drawn as lines alone where it is looked through. */
const THIN = ["sheet", "obstacle"];
/** So far a finger slips that means one place, pixels. */
const FINGER = 12;
/** A step of the keys, radians. */
const STEP = Math.PI / 36;

export class Solid {
  /** @param {(name: string) => boolean} take @param {import("./drivers.js").Drivers} drivers */
  constructor(take, drivers) {
    this.canvas = /** @type {HTMLCanvasElement} */ (by("solid"));
    this.take = take;
    this.drivers = drivers;
    /** @type {import("./solids.js").Body[]} */
    this.bodies = [];
    /** @type {import("./solids.js").Head | null} */
    this.head = null;
    /** @type {string[]} */
    this.chosen = [];
    this.from = "seat";
    this.busy = false;
    this.want = -1;
    /** @type {import("./drivers.js").Mark | null} */
    this.mark = null;
    /** @type {Map<string, number[]>} */
    this.carried = new Map();
    this.scene = new Scene();
    this.camera = new PerspectiveCamera(26, 1, 5, 20000);
    this.frame = 0;
    this.size = "";
    /** @type {number[][]} */
    this.matrices = [];
    this.renderer = this.start();
    drivers.moved = (matrices) => this.pose(matrices);
    drivers.marked = (mark) => this.point(mark);
    this.measure = new Mesh(plain([]), line(light.pencil, 2.6, true));
    this.measure.frustumCulled = false;
    this.measure.renderOrder = 2;
    this.scene.add(this.measure);
    this.orbit = new OrbitControls(this.camera, this.canvas);
    this.orbit.zoomToCursor = true;
    this.orbit.minDistance = 40;
    this.orbit.maxDistance = 12000;
    this.orbit.addEventListener("change", () => this.draw());
    this.hands();
    new ResizeObserver(() => this.draw()).observe(by("solid-view"));
    new MutationObserver(() => this.draw()).observe(document.documentElement, { attributeFilter: ["data-paper"] });
  }

  /** The renderer, or a sentence why there is none: the drivers and their gap need none. */
  start() {
    const context = this.canvas.getContext("webgl2", { antialias: true, alpha: true });
    const none = by("solid-none");
    none.hidden = !!context;
    if (!context) {
      none.textContent = "This browser draws no solids: its WebGL 2 is missing or switched off. The section shows the same solids, and the least clearance is told below.";
      return null;
    }
    this.canvas.addEventListener("webglcontextlost", () => {
      none.hidden = false;
      none.textContent = "The browser took the drawing surface away. Open the page anew to see the solids; the section shows the same.";
    });
    this.canvas.addEventListener("webglcontextrestored", () => {
      none.hidden = true;
      this.draw();
    });
    return new WebGLRenderer({ canvas: this.canvas, context, antialias: true, alpha: true });
  }

  /** Takes the solids of a revision; one request at a time. @param {number} revision */
  async load(revision) {
    this.want = revision;
    if (this.busy || this.head?.revision === revision) return;
    this.busy = true;
    try {
      // what changes meanwhile is asked for next
      while (this.head?.revision !== this.want) {
        const asked = this.want;
        const { head, bodies } = await solids(this.head && { head: this.head, bodies: this.bodies });
        const first = !this.head;
        if (head.revision < asked) break;
        this.head = head;
        this.want = Math.max(this.want, head.revision);
        const [had, has] = [new Set(this.bodies), new Set(bodies)];
        for (const b of had) {
          if (has.has(b)) continue;
          this.scene.remove(b.face, b.lines);
          b.dispose();
        }
        this.bodies = bodies;
        for (const b of bodies) if (!had.has(b)) this.scene.add(b.face, b.lines);
        this.pose(head.matrices);
        this.choose(this.chosen);
        this.drivers.take(head.drivers, head.worst, head["worst-staying"]);
        this.see(first ? "seat" : null);
      }
    } finally {
      this.busy = false;
    }
    this.tell();
  }

  /** Moves what hangs on links. @param {number[][]} matrices */
  pose(matrices) {
    for (const b of this.bodies) {
      const [x, y] = this.carried.get(b.told.id) ?? [0, 0];
      const own = b.told.link === null ? null : matrices[b.told.link];
      for (const m of [b.face, b.lines]) {
        if (own) m.matrix.fromArray(own);
        else m.matrix.makeTranslation(x, y, 0);
        m.matrixWorldNeedsUpdate = true;
      }
    }
    this.matrices = matrices;
    this.draw();
  }

  /** Moves what the hand holds, in the sheet's plane. @param {[string, number[]][]} all */
  carry(all) {
    if (!all.length && !this.carried.size) return;
    this.carried = new Map(all);
    this.pose(this.matrices);
  }

  /** Draws what is chosen heavier. @param {string[]} ids */
  choose(ids) {
    this.chosen = ids;
    this.tell();
    this.draw();
  }

  /** Shows two points with a line and words; none with nothing. @param {import("./drivers.js").Mark | null} mark */
  point(mark) {
    this.mark = mark;
    const pairs = [];
    if (mark) {
      const [a, b] = mark.points;
      pairs.push([...a, ...b]);
      for (const p of [a, b]) for (let k = 0; k < 3; k++) pairs.push([...p.map((v, c) => v - (c === k ? 4 : 0)), ...p.map((v, c) => v + (c === k ? 4 : 0))]);
    }
    this.measure.geometry.dispose();
    this.measure.geometry = plain(pairs);
    by("solid-length").textContent = mark?.words ?? "";
    this.draw();
  }

  /** From one of the views, at the sheets and what stands on them; the same way again with nothing. @param {string | null} view */
  see(view) {
    if (!this.head || !view) return this.draw();
    this.from = view;
    const [x0, y0, x1, y1] = this.head.sheets;
    // what the instruments take, not all of the airframe
    let [near, far] = [0, 0];
    for (const b of this.bodies.filter((b) => b.told.kind === "instrument")) {
      const s = b.face.geometry.boundingSphere;
      if (!s) continue;
      [near, far] = [Math.max(near, s.center.z + 0.5 * s.radius), Math.min(far, s.center.z - 0.5 * s.radius)];
    }
    const middle = new Vector3((x0 + x1) / 2, (y0 + y1) / 2, (near + far) / 2);
    const [w, h, d] = [x1 - x0, y1 - y0, near - far];
    const tall = Math.tan((this.camera.fov * Math.PI) / 360);
    const across = { seat: [w, h, d], ahead: [w, h, d], side: [d, h, w], above: [w, d, h] }[/** @type {"seat"} */ (view)] ?? [w, h, d];
    const away = Math.max(across[1] / 2 / tall, across[0] / 2 / tall / Math.max(this.aspect(), 0.2)) * 1.12 + across[2] / 2;
    const to = new Vector3(...(/** @type {[number, number, number]} */ (VIEWS[/** @type {"seat"} */ (view)])));
    this.orbit.target.copy(middle);
    this.camera.position.copy(middle).addScaledVector(to, away / to.length());
    this.orbit.update();
    for (const v of KEYS) button(`from-${v}`).setAttribute("aria-pressed", String(v === view));
    this.tell();
    this.draw();
  }

  aspect() {
    const { clientWidth: w, clientHeight: h } = by("solid-view");
    return h ? w / h : 1;
  }

  /** At the next frame. */
  draw() {
    this.frame ||= requestAnimationFrame(() => this.paint());
  }

  paint() {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    const { clientWidth: w, clientHeight: h } = by("solid-view");
    if (!this.renderer || !w || !h) return;
    mix();
    const through = input("through").checked;
    for (const b of this.bodies) b.look(this.chosen.includes(b.told.id), through && THIN.includes(b.told.kind));
    const k = Math.min(devicePixelRatio, 2);
    const size = `${w} ${h} ${k}`;
    if (size !== this.size) {
      this.size = size;
      this.renderer.setPixelRatio(k);
      this.renderer.setSize(w, h, false);
      light.size.value.set(w, h);
    }
    this.camera.aspect = w / h;
    // as near as is looked: lines keep in front of the faces that they border
    const far = this.camera.position.clone().sub(this.orbit.target).length();
    this.camera.near = Math.max(2, far / 40);
    this.camera.far = far + 6000;
    this.camera.updateProjectionMatrix();
    const p = light.paper.value;
    this.renderer.setClearColor((Math.round(p.x * 255) << 16) | (Math.round(p.y * 255) << 8) | Math.round(p.z * 255), 1);
    this.renderer.render(this.scene, this.camera);
    this.label();
  }

  /** The words of the mark beside its middle. */
  label() {
    const box = by("solid-length");
    const { clientWidth: w, clientHeight: h } = by("solid-view");
    if (!this.mark) {
      box.hidden = true;
      return;
    }
    const [a, b] = this.mark.points;
    const v = new Vector3((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2).project(this.camera);
    box.hidden = Math.abs(v.x) > 1 || Math.abs(v.y) > 1 || v.z > 1;
    if (box.hidden) return;
    const x = Math.min(((v.x + 1) / 2) * w + 8, w - box.offsetWidth - 2);
    const y = Math.min(((1 - v.y) / 2) * h + 6, h - box.offsetHeight - 2);
    box.style.transform = `translate(${x}px, ${y}px)`;
  }

  /** What is under a point of the window. @param {number} cx @param {number} cy */
  under(cx, cy) {
    const r = this.canvas.getBoundingClientRect();
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2(((cx - r.left) / r.width) * 2 - 1, 1 - ((cy - r.top) / r.height) * 2), this.camera);
    const seen = this.bodies.filter((b) => b.face.visible).map((b) => b.face);
    const hit = ray.intersectObjects(seen, false)[0];
    if (!hit) return null;
    /** @type {import("./solids.js").Body} */
    const body = hit.object.userData;
    return { body, part: body.part(hit.faceIndex ?? -1) };
  }

  hands() {
    const name = by("solid-name");
    let down = [0, 0];
    let asked = 0;
    /** Fingers and buttons that are down. @type {Set<number>} */
    const held = new Set();
    /** Whether what is down has been one alone. */
    let alone = true;
    /** @param {PointerEvent} e @param {ReturnType<Solid["under"]>} hit */
    const told = (e, hit) => {
      name.hidden = !hit;
      if (!hit) return;
      name.textContent = `${hit.part?.id ?? hit.body.told.id}: ${hit.body.told.title}`;
      const { clientWidth: w, clientHeight: h } = by("solid-view");
      const r = this.canvas.getBoundingClientRect();
      const [x, y] = [e.clientX - r.left + 14, e.clientY - r.top + 14];
      name.style.transform = `translate(${Math.max(0, Math.min(x, w - name.offsetWidth - 2))}px, ${Math.min(y, h - name.offsetHeight - 2)}px)`;
    };
    this.canvas.addEventListener("pointerdown", (e) => {
      alone = held.size === 0;
      held.add(e.pointerId);
      down = [e.clientX, e.clientY];
      name.hidden = true;
    });
    this.canvas.addEventListener("pointercancel", (e) => {
      held.delete(e.pointerId);
      alone = false;
    });
    this.canvas.addEventListener("pointerup", (e) => {
      held.delete(e.pointerId);
      const near = e.pointerType === "touch" ? FINGER : 4;
      // two fingers move and pinch: neither of them means what lies below
      if (!alone || e.button !== 0 || Math.hypot(e.clientX - down[0], e.clientY - down[1]) > near) return;
      const hit = this.under(e.clientX, e.clientY);
      // a finger does not hover: it is told what it meant
      if (e.pointerType === "touch") told(e, hit);
      if (hit && !this.take(hit.part?.id ?? hit.body.told.id)) {
        // what is no item of the sheet is told and drawn heavier here alone
        this.choose([hit.body.told.id]);
      }
    });
    this.canvas.addEventListener("pointermove", (e) => {
      if (e.buttons || e.pointerType === "touch") {
        name.hidden ||= Math.hypot(e.clientX - down[0], e.clientY - down[1]) > FINGER;
        return;
      }
      cancelAnimationFrame(asked);
      asked = requestAnimationFrame(() => told(e, this.under(e.clientX, e.clientY)));
    });
    this.canvas.addEventListener("pointerleave", (e) => {
      if (e.pointerType === "touch") return;
      cancelAnimationFrame(asked);
      name.hidden = true;
    });
    for (const v of KEYS) button(`from-${v}`).onclick = () => this.see(v);
    input("through").onchange = () => this.draw();
    this.canvas.addEventListener("keydown", (e) => {
      if (!this.key(e)) return;
      // the sheet has the same keys
      e.preventDefault();
      e.stopPropagation();
    });
  }

  /** @param {KeyboardEvent} e @returns {boolean} whether it was for the solids */
  key(e) {
    if (e.ctrlKey || e.metaKey || e.altKey) return false;
    const view = KEYS["1234".indexOf(e.key)];
    const off = this.camera.position.clone().sub(this.orbit.target);
    const way = [Number(e.key === "ArrowRight") - Number(e.key === "ArrowLeft"), Number(e.key === "ArrowUp") - Number(e.key === "ArrowDown")];
    if (view) this.see(view);
    else if (e.key === "0") this.see(this.from);
    else if (e.key === "+" || e.key === "-") this.camera.position.copy(this.orbit.target).addScaledVector(off, e.key === "+" ? 0.87 : 1.15);
    else if (way[0] || way[1]) {
      const far = off.length();
      if (e.shiftKey) {
        for (const [k, by] of way.entries()) {
          const axis = new Vector3().setFromMatrixColumn(this.camera.matrix, k).multiplyScalar(by * far * 0.05);
          this.orbit.target.add(axis);
          this.camera.position.add(axis);
        }
      } else {
        const round = Math.atan2(off.x, off.z) + way[0] * STEP;
        const up = Math.min(Math.max(Math.asin(off.y / far) + way[1] * STEP, -Math.PI / 2 + 1e-3), Math.PI / 2 - 1e-3);
        off.set(far * Math.cos(up) * Math.sin(round), far * Math.sin(up), far * Math.cos(up) * Math.cos(round));
        this.camera.position.copy(this.orbit.target).add(off);
      }
    } else return false;
    this.orbit.update();
    this.draw();
    return true;
  }

  /** What is shown, in words. */
  tell() {
    if (!this.head) return;
    const ways = { seat: "the seat", side: "the right-hand side", above: "above", ahead: "ahead, looking aft" };
    const out = this.head["left-out"];
    const named = this.bodies.filter((b) => this.chosen.includes(b.told.id)).map((b) => `${b.told.id}, ${b.told.title}`);
    by("solid-words").textContent = [
      `${this.head.solids} solids, seen from ${ways[/** @type {"seat"} */ (this.from)]}`,
      named.length ? `heavy: ${[...new Set(named)].join("; ")}` : "",
      out.length ? `not drawn, an empty place there is no free room: ${out.join("; ")}` : "",
    ].filter(Boolean).join(". ") + ".";
  }
}
