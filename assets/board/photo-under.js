// The photograph, straightened, under the drawing on the desk: at its place in mm, as pale as is wished.
// @ts-check
import { sheet, wire } from "./desk.js";
import { button, by, input } from "./page.js";
import { hear, news, ready, tell, view } from "./photograph.js";
import { shape } from "./sheet.js";

const svg = shape("svg", { id: "under", "aria-hidden": "true" });
const image = shape("image", { id: "under-image", preserveAspectRatio: "none" });
svg.append(image);
by("desk").prepend(svg);

const box = document.createElement("fieldset");
box.id = "under-hands";
box.hidden = true;
box.innerHTML = `<legend>Photograph under it</legend><label><input type="checkbox" id="under-on" checked> shown</label>
  <label>strength <input type="range" id="under-strength" min="5" max="100" value="60"></label><p id="under-words"></p>`;
by("desk").append(box);

/** @type {any} where it lies */
let place = null;

function lay() {
  box.hidden = !place;
  svg.toggleAttribute("hidden", !place || !input("under-on").checked);
  if (!place) return;
  const [x0, y1] = sheet.at([place.box[0], place.box[1]]);
  const [x1, y0] = sheet.at([place.box[2], place.box[3]]);
  svg.setAttribute("viewBox", (sheet.seen ?? [0, 0, ...sheet.size]).join(" "));
  for (const [k, v] of [["x", x0], ["y", y0], ["width", x1 - x0], ["height", y1 - y0]]) image.setAttribute(String(k), String(v));
  image.setAttribute("opacity", String(Number(input("under-strength").value) / 100));
}
sheet.laid.push(lay);
input("under-on").onchange = input("under-strength").oninput = lay;

hear("photograph-under", (m) => {
  place = m.place;
  if (place) {
    image.setAttribute("href", `made/photograph/1?${place.revision}`);
    by("under-words").textContent = place.words;
    if (view.picture) news(`${place.words}; it lies under the drawing on the desk.`);
  }
  lay();
});

ready.push(() => {
  button("ph-under").onclick = () => {
    news("Straightening …");
    tell("straighten");
  };
});

// a page that was loaded again asks for what lies there
new MutationObserver(() => {
  if (document.documentElement.dataset.wire === "open") wire.ask({ do: "photograph", act: "under" });
}).observe(document.documentElement, { attributeFilter: ["data-wire"] });
