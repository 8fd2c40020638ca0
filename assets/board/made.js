// What is made of the panel as it stands: files to keep.
// @ts-check
import { desk } from "./desk.js";
import { button, by, dialog } from "./page.js";

const FILES = [
  ["template", "Template, one large page (PDF)"], ["tiles", "Template in tiles for a home printer (PDF)"], ["cutting", "Cutting file (DXF)"],
  ["drawing", "Fabrication drawing (PDF)"],
];

/** @param {string} where @param {string} words */
function link(where, words) {
  const row = document.createElement("li");
  const a = document.createElement("a");
  a.href = `made/${where}`;
  a.download = "";
  a.textContent = words;
  a.onclick = (e) => {
    e.preventDefault();
    keep(a);
  };
  row.append(a);
  return row;
}

/** Has a file made and gives it to be kept; why there is none stands below the list. @param {HTMLAnchorElement} a */
async function keep(a) {
  const news = by("files-news");
  news.textContent = `${a.textContent}: being made …`;
  try {
    const answer = await fetch(a.href);
    if (!answer.ok) throw new Error((await answer.text()).slice(0, 400));
    const name = /filename="([^"]+)"/.exec(answer.headers.get("content-disposition") ?? "")?.[1] ?? "";
    const file = document.createElement("a");
    file.href = URL.createObjectURL(await answer.blob());
    file.download = name;
    file.click();
    // the browser has taken it by then
    setTimeout(() => URL.revokeObjectURL(file.href), 60000);
    news.textContent = `${name} is made.`;
  } catch (e) {
    news.textContent = `It could not be made: ${e instanceof Error ? e.message : e}`;
  }
}

button("give").onclick = () => {
  const sheets = desk.state.sheets.flatMap((/** @type {string} */ id, /** @type {number} */ k) =>
    FILES.map(([kind, words]) => link(`${kind}/${k}`, k ? `${words}, ${id}` : words)));
  by("files-list").replaceChildren(...sheets, link("report/0", "Fit report (HTML)"));
  by("files-news").textContent = "";
  dialog("files").showModal();
};
button("files-close").onclick = () => dialog("files").close();
