// Where a hand comes to rest: in the row or column of another item, on a middle or a centre line, on an old opening, at equal gaps,
// on the grid.
// @ts-check

/** @typedef {{ at: number[], box: number[], id: string, label: boolean, held: boolean }} Item */
/** An opening that is there already, by its middle. @typedef {{ id: string, at: number[] }} Old */
/** What one axis came to: how far it is moved, the line that is drawn, gaps that are equal (from, to), what it is called.
 * @typedef {{ by: number, kind: "" | "row" | "centre" | "middle" | "old" | "gap" | "grid", line: number | null, gaps: number[][], words: string }} Rest */
/** A place to rest: of the item's own reference point. @typedef {{ to: number, line: number, kind: Rest["kind"], words: string, gaps?: number[][] }} Place */

/** Same place, mm. */
const SAME = 1e-6;
/** Neighbours among which middles and gaps are looked for, at the most: on a crowded sheet all others would be too many lines. */
const MOST = 40;
/** So far beyond its own size an item has neighbours, mm at the least. */
const NEAR = 40;

/** @param {number[]} box @param {number} axis */
const middle = (box, axis) => (box[axis] + box[axis + 2]) / 2;

/** The places that stay the same while an item is held. */
export class Snaps {
  /** @param {Item} item what is held, where it stood; its box is that of all that are held along @param {boolean} several whether there are such @param {Item[]} others @param {Old[]} olds @param {number[]} sheet its box */
  constructor(item, several, others, olds, sheet) {
    this.item = item;
    /** Whose middle comes to rest. */
    this.whose = several ? "their middle: " : "";
    this.others = others.filter((o) => !o.label && !o.held);
    this.olds = olds;
    this.sheet = sheet;
    this.lines = [0, 1].map((axis) => this.along(axis));
  }

  /** @param {number} axis 0: x, 1: y */
  along(axis) {
    const { item } = this;
    const line = axis ? "row" : "column";
    // how far the middle of its face is from its reference point
    const off = middle(item.box, axis) - item.at[axis];
    /** @type {Place[]} */
    const all = [];
    for (const o of this.others) {
      all.push({ to: o.at[axis], line: o.at[axis], kind: "row", words: `${line} of ${o.id}` });
      const mid = middle(o.box, axis);
      if (Math.abs(mid - off - o.at[axis]) > SAME) all.push({ to: mid - off, line: mid, kind: "middle", words: `${this.whose}middle of ${o.id}` });
    }
    const centre = middle(this.sheet, axis);
    for (const by of Math.abs(off) > SAME ? [0, off] : [0]) all.push({ to: centre - by, line: centre, kind: "centre", words: `${by ? this.whose : ""}centre line of the sheet` });
    for (const o of this.olds) all.push({ to: o.at[axis], line: o.at[axis], kind: "old", words: `middle of old opening ${o.id}` });
    return all;
  }

  /** Middles between neighbours and equal gaps, where a hand has the item. @param {number} axis @param {number[]} at its box there @param {Item[]} near */
  between(axis, at, near) {
    const cross = 1 - axis;
    const size = at[axis + 2] - at[axis];
    // from the box's lower side to the reference point, and to the middle
    const low = this.item.at[axis] - this.item.box[axis];
    const off = middle(this.item.box, axis) - this.item.at[axis];
    const [from, to] = [this.sheet[axis], this.sheet[axis + 2]];
    /** @param {Item} a @param {number[]} box */
    const beside = (a, box) => a.box[cross] < box[cross + 2] && a.box[cross + 2] > box[cross];
    const sorted = [...near].sort((a, b) => a.box[axis] - b.box[axis]);
    /** @type {Place[]} */
    const all = [];
    sorted.forEach((a, k) => {
      const b = sorted.slice(k + 1).find((o) => beside(o, a.box) && o.box[axis] >= a.box[axis + 2]);
      if (!b) return;
      const mid = (middle(a.box, axis) + middle(b.box, axis)) / 2;
      all.push({ to: mid - off, line: mid, kind: "middle", words: `${this.whose}midway between ${a.id} and ${b.id}` });
    });
    const ends = axis ? ["lower end of the sheet", "upper end of the sheet"] : ["left end of the sheet", "right end of the sheet"];
    /** @type {{ id: string, box: number[] }[]} */
    const level = sorted.filter((o) => beside(o, at));
    const end = (/** @type {string} */ id, /** @type {number} */ v) => ({ id, box: [v, v, v, v] });
    level.unshift(end(ends[0], from));
    level.push(end(ends[1], to));
    for (let k = 0; k + 1 < level.length; k++) {
      const a = level[k], b = level[k + 1];
      const [a1, b0] = [a.box[axis + 2], b.box[axis]];
      const free = b0 - a1;
      const gap = (free - size) / 2;
      /** @param {number} lower where its lower side comes to stand @param {string} words @param {number[][]} gaps */
      const put = (lower, words, gaps) => {
        if (lower < from - SAME || lower + size > to + SAME) return;
        all.push({ to: lower + low, line: lower + low, kind: "gap", words, gaps });
      };
      if (gap > 0) put(a1 + gap, `equal gaps ${a.id}, ${b.id}`, [[a1, a1 + gap], [b0 - gap, b0]]);
      if (free > 0) {
        const [a0, b1] = [a.box[axis], b.box[axis + 2]];
        put(b1 + free, `gap of ${a.id}, ${b.id}`, [[a1, b0], [b1, b1 + free]]);
        put(a0 - free - size, `gap of ${a.id}, ${b.id}`, [[a0 - free, a0], [a1, b0]]);
      }
    }
    return all;
  }

  /** @param {number[]} at a box @returns {Item[]} */
  near(at) {
    const far = Math.max(NEAR, at[2] - at[0], at[3] - at[1]) * 1.5;
    const off = (/** @type {Item} */ o) =>
      Math.max(o.box[0] - at[2], at[0] - o.box[2], o.box[1] - at[3], at[1] - o.box[3], 0);
    const met = this.others.filter((o) => off(o) <= far);
    return met.length <= MOST ? met : met.sort((a, b) => off(a) - off(b)).slice(0, MOST);
  }

  /** @param {number[]} by how far the hand is, mm @param {number} reach how near it must be, mm @param {{ mm: number, words: string }} grid 0 mm: none
   * @returns {[Rest, Rest]} x and y */
  at(by, reach, grid) {
    const { item } = this;
    const want = item.at.map((v, k) => v + by[k]);
    const box = item.box.map((v, k) => v + by[k % 2]);
    const near = this.near(box);
    // an old opening holds both ways at once
    const old = this.olds.find((o) => Math.hypot(o.at[0] - want[0], o.at[1] - want[1]) <= reach);
    const one = (/** @type {number} */ axis) => this.rest(axis, want[axis], old, [...this.lines[axis], ...this.between(axis, box, near)], reach, grid);
    return [one(0), one(1)];
  }

  /** @param {number} axis @param {number} want @param {Old | undefined} old @param {Place[]} places @param {number} reach @param {{ mm: number, words: string }} grid
   * @returns {Rest} */
  rest(axis, want, old, places, reach, grid) {
    const from = this.item.at[axis];
    /** @type {Place | undefined} */
    let best;
    let least = reach;
    for (const p of places) {
      const d = Math.abs(p.to - want);
      if (d <= least - (best ? SAME : 0)) [best, least] = [p, d];
    }
    if (old) best = places.find((p) => p.kind === "old" && p.to === old.at[axis]) ?? best;
    if (best) {
      const { to, line, kind } = best;
      // all that names the same place, the nearest first
      const same = places.filter((p) => Math.abs(p.to - to) < SAME);
      const words = [...new Set([best, ...same].map((p) => p.words))].slice(0, 3);
      return { by: to - from, kind, line, gaps: same.find((p) => p.gaps)?.gaps ?? [], words: words.join(", ") };
    }
    if (grid.mm > 0) {
      const to = Math.round(want / grid.mm) * grid.mm;
      return { by: to - from, kind: "grid", line: to, gaps: [], words: `grid ${grid.words}` };
    }
    return { by: want - from, kind: "", line: null, gaps: [], words: "" };
  }
}
