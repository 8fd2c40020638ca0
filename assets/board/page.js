// What every part of the page needs: its elements, the line of notices, the question before something is done.
// @ts-check

/** @template {HTMLElement} [T=HTMLElement] @param {string} id */
export const by = (id) => /** @type {T} */ (document.getElementById(id));
/** @param {string} id */
export const button = (id) => /** @type {HTMLButtonElement} */ (by(id));
/** @param {string} id */
export const input = (id) => /** @type {HTMLInputElement} */ (by(id));
/** @param {string} id */
export const dialog = (id) => /** @type {HTMLDialogElement} */ (by(id));

/** @param {string} words @param {[string, () => void][]} answers */
export function notice(words, answers) {
  const box = by("notice");
  box.hidden = !words;
  const p = document.createElement("span");
  p.textContent = words;
  const all = answers.map(([word, run]) => {
    const b = document.createElement("button");
    b.textContent = word;
    b.onclick = run;
    return b;
  });
  box.replaceChildren(p, ...all);
  // a view that lies over the desk says it itself
  const over = [...document.querySelectorAll("dialog[open] [data-news]")].at(-1);
  if (over && words) over.textContent = words;
}

/** Asks before something is done; what is not answered yes is left. @param {string} words @param {[string, () => void][]} answers @param {string} no */
export function ask(words, answers, no) {
  const box = dialog("ask");
  by("ask-words").textContent = words;
  const all = answers.map(([word, run]) => {
    const b = document.createElement("button");
    b.textContent = word;
    b.onclick = () => {
      box.close();
      run();
    };
    return b;
  });
  const leave = document.createElement("button");
  leave.textContent = no;
  leave.onclick = () => box.close();
  by("ask-answers").replaceChildren(...all, leave);
  if (!box.open) box.showModal();
}

// Tab stays within a dialog that is open: what lies behind it is not to be reached
addEventListener("keydown", (e) => {
  const box = [...document.querySelectorAll("dialog[open]")].at(-1);
  if (e.key !== "Tab" || !box) return;
  const all = [.../** @type {NodeListOf<HTMLElement>} */ (box.querySelectorAll("button, a[href], input, select, textarea, [tabindex]"))].filter(
    (x) => x.tabIndex >= 0 && !(/** @type {any} */ (x).disabled) && x.getClientRects().length > 0,
  );
  const [first, last] = [all[0], all[all.length - 1]];
  const here = document.activeElement;
  if (!first || (box.contains(here) && here !== (e.shiftKey ? first : last))) return;
  e.preventDefault();
  (e.shiftKey ? last : first).focus();
});
