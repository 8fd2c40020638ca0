// Where a hand comes to rest: in the column or row of another item, on the sheet's centre line, at an equal gap, on the grid.
// @ts-check

/** @typedef {{ at: number[], box: number[], id: string, label: boolean, held: boolean }} Item */
/** @typedef {{ by: number, line: number | null, words: string }} Rest */

/**
 * One axis.
 * @param {number} axis 0: x, 1: y
 * @param {Item} item what is held, where it stood
 * @param {Item[]} others
 * @param {number[]} sheet its box
 * @param {number} by how far the hand is, mm
 * @param {number} reach how near it must be, mm
 * @param {number} grid mm; 0: none
 * @returns {Rest}
 */
function along(axis, item, others, sheet, by, reach, grid) {
  const want = item.at[axis] + by;
  /** @type {{ to: number, line: number, words: string, rank: number }[]} */
  const rests = [];
  for (const o of others) {
    rests.push({ to: o.at[axis], line: o.at[axis], words: (axis ? "row of " : "column of ") + o.id, rank: 0 });
  }
  const middle = (sheet[axis] + sheet[axis + 2]) / 2;
  rests.push({ to: middle, line: middle, words: "centre line", rank: 0 });
  // an equal gap between two neighbours, or the gap that two neighbours have, carried on
  const low = item.at[axis] - item.box[axis], high = item.box[axis + 2] - item.at[axis];
  const cross = 1 - axis;
  const level = others
    .filter((o) => o.box[cross] < item.box[cross + 2] && o.box[cross + 2] > item.box[cross])
    .sort((a, b) => a.box[axis] - b.box[axis]);
  for (let k = 0; k + 1 < level.length; k++) {
    const a = level[k], b = level[k + 1];
    const free = b.box[axis] - a.box[axis + 2];
    const between = (free - low - high) / 2;
    if (between > 0) {
      const to = a.box[axis + 2] + between + low;
      rests.push({ to, line: to, words: `equal gaps ${a.id}, ${b.id}`, rank: 1 });
    }
    if (free > 0) {
      rests.push({ to: b.box[axis + 2] + free + low, line: b.box[axis + 2] + free + low, words: `gap of ${a.id}, ${b.id}`, rank: 1 });
      rests.push({ to: a.box[axis] - free - high, line: a.box[axis] - free - high, words: `gap of ${a.id}, ${b.id}`, rank: 1 });
    }
  }
  let best = null;
  for (const r of rests) {
    const d = Math.abs(r.to - want) + r.rank * 1e-6;
    if (d <= reach && (!best || d < best.d)) best = { d, ...r };
  }
  if (best) {
    // all that names the same line, items before the sheet
    const { to, line } = best;
    const same = [...new Set(rests.filter((r) => Math.abs(r.to - to) < 1e-6).map((r) => r.words))].slice(0, 3);
    return { by: to - item.at[axis], line, words: same.join(", ") };
  }
  if (grid > 0) return { by: Math.round(want / grid) * grid - item.at[axis], line: null, words: "" };
  return { by, line: null, words: "" };
}

/**
 * @param {Item} item
 * @param {Item[]} others
 * @param {number[]} sheet
 * @param {number[]} by
 * @param {number} reach
 * @param {number} grid
 * @returns {[Rest, Rest]}
 */
export function snap(item, others, sheet, by, reach, grid) {
  const near = others.filter((o) => !o.label && !o.held);
  return [along(0, item, near, sheet, by[0], reach, grid), along(1, item, near, sheet, by[1], reach, grid)];
}
