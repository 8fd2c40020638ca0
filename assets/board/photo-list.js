// The tables beside the photograph: every point, round hole and reading with its residual and its doubt, worst first.
// @ts-check
import { by } from "./page.js";

/** @typedef {{ id: string, picked: boolean, x: string, y: string, known: boolean, shows: number[], px: number | null, mm: number | null,
 *   "mm-words": string | null, "doubt-words": string | null, test: number, verdict: string, round?: number[][],
 *   "diameter-words"?: string | null, spots?: number, doubtful: boolean }} Point */

/** @param {string} tag @param {string} words */
function cell(tag, words) {
  const e = document.createElement(tag);
  e.textContent = words;
  return e;
}

/** @param {Point} p */
const rank = (p) => (p.verdict === "set aside" ? 1e6 + (p.px ?? 0) : p.verdict === "disagrees" ? 1e3 + p.test : p.test);

/** @param {Point[]} all @param {{ id: string, kind: string }[]} open picked, and nothing is said of them yet
 * @param {string} chosen @param {(id: string) => void} choose */
export function points(all, open, chosen, choose) {
  const rows = [...all].sort((a, b) => rank(b) - rank(a)).map((p) => {
    const row = document.createElement("tr");
    row.dataset.verdict = p.verdict;
    row.dataset.id = p.id;
    const lies = p.round ? `${p["diameter-words"] ?? "size open"}; at ${p.x}, ${p.y}` : `${p.x}, ${p.y}${p.known ? " (known)" : ""}`;
    const off = p.px === null ? "not picked here" : `${p.px.toFixed(2)} px, ${p["mm-words"] ?? ""}${p.spots && p.round ? ` (rms of ${p.spots})` : ""}`;
    const verdict = cell("td", p.doubtful ? `${p.verdict}, or elsewhere` : p.verdict);
    verdict.className = "word";
    row.append(head(p.id, choose), cell("td", lies), cell("td", off), cell("td", p.known ? "given" : p["doubt-words"] ?? "open"), verdict);
    return row;
  });
  const rest = open.map(({ id, kind }) => {
    const row = document.createElement("tr");
    row.dataset.verdict = "withheld";
    row.dataset.id = id;
    row.append(head(id, choose), cell("td", kind), cell("td", "withheld"), cell("td", "withheld"), cell("td", "withheld"));
    return row;
  });
  for (const r of [...rows, ...rest]) if (r.dataset.id === chosen) r.setAttribute("aria-current", "true");
  by("ph-points").querySelector("tbody")?.replaceChildren(...rows, ...rest);
}

/** @param {string} id @param {(id: string) => void} choose */
function head(id, choose) {
  const th = document.createElement("th");
  th.scope = "row";
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = id;
  b.onclick = () => choose(id);
  th.append(b);
  return th;
}

/** @param {{ n: number, words: string, reads: string, off: number | null, verdict: string }[]} all @param {(n: number) => void} drop */
export function readings(all, drop) {
  const rows = all.map((r) => {
    const row = document.createElement("tr");
    row.dataset.verdict = r.verdict;
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = "Take out";
    b.setAttribute("aria-label", `Take out ${r.words}`);
    b.onclick = () => drop(r.n);
    const last = document.createElement("td");
    last.append(b);
    const verdict = cell("td", r.verdict);
    verdict.className = "word";
    row.append(cell("td", r.words), cell("td", r.reads), cell("td", r.off === null ? "" : `${r.off.toFixed(2)} mm`), verdict, last);
    return row;
  });
  by("ph-readings").querySelector("tbody")?.replaceChildren(...rows);
}
