// The list of findings, worst first, and the arrows to the nearest neighbours.
// @ts-check

/** @typedef {{ id: string, rule: string, asks: string, verdict: string, subjects: string[], a: string, b: string | null, says: string,
 *   note: string, measured: number | null, asked: number | null, margin: number | null, words: string | null,
 *   "asked-words": string | null, at: number[][], plain: boolean, source: string }} Finding */

/** What a finding that is known says now: some of its fields. @typedef {{ id: string } & Partial<Finding>} Again */

const RANK = new Map(["fail", "withheld", "tight", "pass"].map((word, k) => [word, k]));

/** Worst first: by verdict, then by what is left. @param {Finding} a @param {Finding} b */
function worse(a, b) {
  return (RANK.get(a.verdict) ?? 9) - (RANK.get(b.verdict) ?? 9) || (a.margin ?? 0) - (b.margin ?? 0) || (a.id < b.id ? -1 : 1);
}

/** How long the order of the rows may lag behind a moving hand, ms. */
const SETTLES = 500;

/** Rows that are shown, at most. */
const MOST = 300;

/** A row of the list: its elements, and what it says: a finding, and whether that is checked again.
 * @typedef {{ row: HTMLLIElement, button: HTMLButtonElement, cells: HTMLElement[], f: Finding, how: string }} Row */

export class Findings {
  /** @param {HTMLElement} list @param {(f: Finding) => void} choose */
  constructor(list, choose) {
    this.list = list;
    this.choose = choose;
    /** @type {Map<string, Finding>} */
    this.all = new Map();
    /** @type {Map<string, Finding>} those at rest, while something is held */
    this.rest = new Map();
    /** All that are no plain pass, worst first. @type {Finding[]} */
    this.sorted = [];
    /** Ids of the findings about a subject. @type {Map<string, Set<string>>} */
    this.about = new Map();
    /** @type {string[] | null} */
    this.only = null;
    /** @type {string | null} */
    this.current = null;
    /** Rules that have not answered yet for where the hand is. @type {Set<string>} */
    this.open = new Set();
    /** What the hand holds. @type {string[]} */
    this.held = [];
    /** Rows by the finding's id. @type {Map<string, Row>} */
    this.rows = new Map();
    /** When the rows stood in order last, ms. */
    this.sorting = 0;
  }

  /** @param {Finding[]} all */
  set(all) {
    this.rest = new Map(all.map((f) => [f.id, f]));
    this.back();
  }

  /** All as it was before something was held. */
  back() {
    this.all = new Map(this.rest);
    this.about = new Map();
    this.sorted = [];
    for (const f of this.all.values()) {
      this.name(f);
      if (!f.plain) this.sorted.push(f);
    }
    this.sorted.sort(worse);
    this.open = new Set();
    this.held = [];
    this.draw();
  }

  /** @param {Finding} f */
  name(f) {
    for (const s of f.subjects) {
      const known = this.about.get(s);
      if (known) known.add(f.id);
      else this.about.set(s, new Set([f.id]));
    }
  }

  /** What differs from what was told before: findings that are new, what known ones say now, ids of those that are no more.
   * @param {Finding[]} fresh @param {Again[]} again @param {string[]} gone */
  differ(fresh, again, gone) {
    /** @type {Finding[]} */
    const now = [...fresh];
    for (const f of again) {
      const known = this.all.get(f.id);
      if (known) now.push({ ...known, ...f });
    }
    const out = new Set(gone);
    for (const id of gone) {
      for (const s of this.all.get(id)?.subjects ?? []) this.about.get(s)?.delete(id);
      this.all.delete(id);
    }
    for (const f of now) {
      out.add(f.id);
      if (!this.all.has(f.id)) this.name(f);
      this.all.set(f.id, f);
    }
    this.sorted = merged(this.sorted.filter((f) => !out.has(f.id)), now.filter((f) => !f.plain).sort(worse));
  }

  /** Which rules are still checking, and what is held meanwhile. @param {string[]} open @param {string[]} held */
  wait(open, held) {
    this.open = new Set(open);
    this.held = held;
  }

  /** Whether what a finding says is of a place where the hand no longer is. @param {Finding} f */
  waits(f) {
    return this.open.has(f.rule);
  }

  /** The findings about some subjects. @param {string[]} subjects */
  of(subjects) {
    const ids = new Set(subjects.flatMap((s) => [...(this.about.get(s) ?? [])]));
    return [...ids].flatMap((id) => this.all.get(id) ?? []);
  }

  /** Shows the list. Under a hand (`moving`) its order may lag by {@link SETTLES}: a row that changes places is laid out anew and
   * draws the eye, and what it says is what counts then. @param {boolean} [moving] */
  draw(moving = false) {
    const { only, open, held } = this;
    const chosen = only ? this.sorted.filter((f) => f.subjects.some((s) => only.includes(s))) : this.sorted;
    // a pass that is asked again is no pass yet
    const again = open.size
      ? this.of(held).filter((f) => f.plain && this.waits(f) && (!only || f.subjects.some((s) => only.includes(s)))).sort(worse)
      : [];
    const all = merged(chosen.slice(0, MOST), again).slice(0, MOST);
    const focus = document.activeElement;
    const shown = new Set(all.map((f) => f.id));
    for (const [id, { row }] of this.rows) {
      if (shown.has(id)) continue;
      row.remove();
      this.rows.delete(id);
    }
    const now = performance.now();
    if (moving && now - this.sorting < SETTLES) return this.keep(all);
    this.sorting = now;
    // what stands where it stood is left: each row that comes or goes has the list laid out anew
    /** @type {Element | null} */
    let next = this.list.firstElementChild;
    for (const f of all) {
      const row = this.rows.get(f.id) ?? this.row(f);
      this.rows.set(f.id, row);
      this.write(row, f);
      if (row.row === next) next = next.nextElementSibling;
      else this.list.insertBefore(row.row, next);
    }
    // a row that was moved lost it
    if (focus !== document.activeElement && focus instanceof HTMLElement && this.list.contains(focus)) focus.focus({ preventScroll: true });
  }

  /** Has each row say what its finding says now, wherever it stands; a new one comes after the one that it follows in order.
   * @param {Finding[]} all */
  keep(all) {
    /** @type {Element | null} */
    let last = null;
    for (const f of all) {
      let row = this.rows.get(f.id);
      if (!row) {
        row = this.row(f);
        this.rows.set(f.id, row);
        if (last) last.after(row.row);
        else this.list.prepend(row.row);
      }
      this.write(row, f);
      last = row.row;
    }
  }

  /** An empty row. @param {Finding} f @returns {Row} */
  row(f) {
    const row = document.createElement("li");
    const button = document.createElement("button");
    const cells = ["word", "who", "says", "rule"].map((c) => {
      const s = document.createElement("span");
      s.className = c;
      return s;
    });
    button.append(...cells);
    row.append(button);
    const made = { row, button, cells, f, how: "" };
    button.onclick = () => this.choose(made.f);
    return made;
  }

  /** Has a row say what a finding says. @param {Row} row @param {Finding} f */
  write(row, f) {
    const waits = this.waits(f);
    const own = waits && f.subjects.some((s) => this.held.includes(s));
    const how = `${own ? "own" : waits ? "waits" : "says"} ${f.id === this.current}`;
    // what is the same is not written again
    if (row.f === f && row.how === how) return;
    row.f = f;
    row.how = how;
    const says = own ? "moved: still checking" : [f.says, f.note, waits ? "still checking" : ""].filter(Boolean).join("; ");
    const text = [own ? "checking" : f.verdict, f.b ? `${f.a} and ${f.b}` : f.a, says, f.asks];
    row.cells.forEach((s, i) => {
      if (s.textContent !== text[i]) s.textContent = text[i];
    });
    const b = row.button;
    b.dataset.verdict = own ? "checking" : f.verdict;
    b.dataset.finding = f.id;
    b.title = `${f.rule}: ${f.source}`;
    b.setAttribute("aria-current", String(f.id === this.current));
  }

  /** Nearest neighbours of an item: of each the finding with the least distance. @param {string[]} ids */
  nearest(ids) {
    /** @type {Map<string, Finding>} */
    const best = new Map();
    for (const f of this.of(ids)) {
      const other = f.subjects.find((s) => !ids.includes(s));
      if (this.waits(f) || f.measured === null || f.asked === null || other === undefined) continue;
      const known = best.get(other);
      if (!known || worse(f, known) < 0) best.set(other, f);
    }
    return [...best.values()].sort((a, b) => (a.measured ?? 0) - (b.measured ?? 0)).slice(0, 5);
  }
}

/** Two lists in order as one. @param {Finding[]} a @param {Finding[]} b */
function merged(a, b) {
  if (!b.length) return a;
  /** @type {Finding[]} */
  const all = [];
  let k = 0;
  for (const f of a) {
    while (k < b.length && worse(b[k], f) < 0) all.push(b[k++]);
    all.push(f);
  }
  return all.concat(b.slice(k));
}
