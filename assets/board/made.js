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
  row.append(a);
  return row;
}

button("give").onclick = () => {
  const sheets = desk.state.sheets.flatMap((/** @type {string} */ id, /** @type {number} */ k) =>
    FILES.map(([kind, words]) => link(`${kind}/${k}`, k ? `${words}, ${id}` : words)));
  by("files-list").replaceChildren(...sheets, link("report/0", "Fit report (HTML)"));
  dialog("files").showModal();
};
button("files-close").onclick = () => dialog("files").close();
