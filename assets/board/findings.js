// The list of findings, worst first, and the arrows to the nearest neighbours.
// @ts-check

/** @typedef {{ id: string, rule: string, asks: string, verdict: string, subjects: string[], a: string, b: string | null, says: string,
 *   note: string, measured: number | null, asked: number | null, margin: number | null, words: string | null,
 *   "asked-words": string | null, at: number[][], plain: boolean, source: string }} Finding */

const ORDER = ["fail", "withheld", "tight", "pass"];

/** Worst first: by verdict, then by what is left. @param {Finding} a @param {Finding} b */
function worse(a, b) {
  return ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict) || (a.margin ?? 0) - (b.margin ?? 0) || (a.id < b.id ? -1 : 1);
}

export class Findings {
  /** @param {HTMLElement} list @param {(f: Finding) => void} choose */
  constructor(list, choose) {
    this.list = list;
    this.choose = choose;
    /** @type {Map<string, Finding>} */
    this.all = new Map();
    /** @type {Map<string, Finding>} those at rest, while something is held */
    this.rest = new Map();
    /** The same where what is held counts as moved. @type {Map<string, Finding>} */
    this.base = this.rest;
    /** @type {string[] | null} */
    this.only = null;
    /** @type {string | null} */
    this.current = null;
    this.shown = "";
    /** Rules that have not answered yet for where the hand is. @type {Set<string>} */
    this.open = new Set();
    /** What the hand holds. @type {string[]} */
    this.held = [];
  }

  /** @param {Finding[]} all */
  set(all) {
    this.rest = new Map(all.map((f) => [f.id, f]));
    this.base = this.rest;
    this.all = new Map(this.rest);
    this.open = new Set();
    this.draw();
  }

  /** What the hand took hold of counts as moved: what is otherwise by that. @param {Finding[]} changed @param {string[]} gone */
  take(changed, gone) {
    this.base = new Map(this.rest);
    for (const id of gone) this.base.delete(id);
    for (const f of changed) this.base.set(f.id, f);
  }

  /** All as it was before something was held. */
  back() {
    this.base = this.rest;
    this.differ([], [], [], []);
  }

  /** What differs from where the hand took hold, and which rules are still checking. @param {Finding[]} changed @param {string[]} gone @param {string[]} open
   * @param {string[]} held */
  differ(changed, gone, open, held) {
    this.open = new Set(open);
    this.held = held;
    this.all = new Map(this.base);
    for (const id of gone) this.all.delete(id);
    for (const f of changed) this.all.set(f.id, f);
    this.draw();
  }

  /** Whether what a finding says is of a place where the hand no longer is. @param {Finding} f */
  waits(f) {
    return this.open.has(f.rule);
  }

  draw() {
    const of = this.only;
    const all = [...this.all.values()]
      // a pass that is asked again is no pass yet
      .filter((f) => (!f.plain || (this.waits(f) && f.subjects.some((s) => this.held.includes(s)))) && (!of || f.subjects.some((s) => of.includes(s))))
      .sort(worse)
      .slice(0, 300);
    // what is the same is not built again
    const key = JSON.stringify([all.map((f) => [f.id, f.verdict, f.says, f.note]), this.current, [...this.open], this.held]);
    if (key === this.shown) return;
    this.shown = key;
    const rows = all.map((f, k) => {
      let row = this.list.children[k];
      if (!row) {
        row = document.createElement("li");
        const b = document.createElement("button");
        for (const c of ["word", "who", "says", "rule"]) {
          const s = document.createElement("span");
          s.className = c;
          b.append(s);
        }
        row.append(b);
      }
      const b = /** @type {HTMLButtonElement} */ (row.firstElementChild);
      const waits = this.waits(f);
      const own = waits && f.subjects.some((s) => this.held.includes(s));
      const says = own ? "moved: still checking" : [f.says, f.note, waits ? "still checking" : ""].filter(Boolean).join("; ");
      const text = [own ? "checking" : f.verdict, f.b ? `${f.a} and ${f.b}` : f.a, says, f.asks];
      [...b.children].forEach((s, i) => {
        if (s.textContent !== text[i]) s.textContent = text[i];
      });
      b.dataset.verdict = own ? "checking" : f.verdict;
      b.dataset.finding = f.id;
      b.title = `${f.rule}: ${f.source}`;
      b.setAttribute("aria-current", String(f.id === this.current));
      b.onclick = () => this.choose(f);
      return row;
    });
    // a row that stays is not taken out and put back: the focus would be lost with it
    rows.forEach((row) => row.parentNode || this.list.append(row));
    while (this.list.children.length > rows.length) this.list.lastElementChild?.remove();
  }

  /** Nearest neighbours of an item: of each the finding with the least distance. @param {string[]} ids */
  nearest(ids) {
    /** @type {Map<string, Finding>} */
    const best = new Map();
    for (const f of this.all.values()) {
      const other = f.subjects.find((s) => !ids.includes(s));
      if (this.waits(f) || f.measured === null || f.asked === null || !f.subjects.some((s) => ids.includes(s)) || other === undefined) continue;
      const known = best.get(other);
      if (!known || worse(f, known) < 0) best.set(other, f);
    }
    return [...best.values()].sort((a, b) => (a.measured ?? 0) - (b.measured ?? 0)).slice(0, 5);
  }
}
