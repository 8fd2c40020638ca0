// The board on windows from 1280x720 to 4K and on tablets, on light and dark paper: nothing is cut off, nothing covers what must be reached,
// no serious accessibility violation; and its print, which nobody may take for a template.
import { execFileSync } from "node:child_process";
import { cpSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { claim, open, serve } from "./hands.mjs";

/** Width, height, and pixels of the screen to one of the page's. */
const WINDOWS = [
  ["laptop", 1280, 720, 1],
  ["desk", 1920, 1080, 1],
  ["4k", 3840, 2160, 1],
  ["4k-large", 1920, 1080, 2],
  ["tablet", 1024, 768, 2],
  ["tablet-upright", 768, 1024, 2],
];

/** What a person would see to be wrong: wider than the window, buttons out of it or under something else, words that are cut off. */
const LOOK = `(() => {
  const seen = (e) => e.offsetParent !== null && getComputedStyle(e).visibility !== "hidden";
  const words = (e) => (e.id || e.textContent.slice(0, 30));
  const main = [...document.querySelectorAll("header button, #zoom button, #block button, #block input, #block select")].filter(seen);
  const boxes = main.map((e) => [e, e.getBoundingClientRect()]);
  const cut = [...document.querySelectorAll("header *, #block *, aside *, dialog[open] *")].filter((e) => {
    const s = getComputedStyle(e);
    return seen(e) && /hidden|clip/.test(s.overflowX) && e.scrollWidth > e.clientWidth + 1;
  });
  return {
    wide: document.documentElement.scrollWidth - innerWidth,
    tall: document.documentElement.scrollHeight - innerHeight,
    out: boxes.filter(([, r]) => r.left < 0 || r.top < 0 || r.right > innerWidth + 1 || r.bottom > innerHeight + 1).map(([e]) => words(e)),
    under: boxes.filter(([e, r]) => {
      const top = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
      return top && top !== e && !e.contains(top) && !top.contains(e);
    }).map(([e]) => words(e)),
    small: boxes.filter(([, r]) => r.height < 24 || r.width < 24).map(([e]) => words(e)),
    cut: cut.map(words),
    desk: (({ width, height }) => [width, height])(document.getElementById("desk").getBoundingClientRect()),
    list: document.getElementById("findings").getBoundingClientRect().height,
  };
})()`;

export default async function sizes(place) {
  // with the files beside it that it builds on
  cpSync(dirname(place.largest), join(place.desk, "largest"), { recursive: true });
  const s = await serve(place.program, join(place.desk, "largest", basename(place.largest)));
  for (const [name, wide, tall, deviceScaleFactor] of WINDOWS) {
    const p = await open(place, s.address, wide, tall);
    const touch = name.startsWith("tablet");
    await p.send("Emulation.setDeviceMetricsOverride", { width: wide, height: tall, deviceScaleFactor, mobile: touch });
    if (touch) await p.send("Emulation.setTouchEmulationEnabled", { enabled: true });
    await p.value("document.fonts.ready.then(() => true)");
    const id = await p.value("board.state.items.find((i) => !i.label && !i.held && !i.locked).id");
    await p.value(`document.querySelector('.item[data-id="${id}"]').focus()`);
    await p.key("Enter");
    await p.till("board.chosen.length === 1");
    const look = await p.value(LOOK);
    claim(look.wide <= 0 && look.tall <= 0, `${name} ${wide}x${tall}: nothing is larger than the window`, [look.wide, look.tall]);
    for (const what of ["out", "under", "small", "cut"]) claim(look[what].length === 0, `${name}: ${what}`, look[what]);
    claim(look.desk[0] * look.desk[1] > 0.28 * wide * tall, `${name}: the desk has room`, look.desk);
    claim(look.list > 120, `${name}: findings can be read`, look.list);
    for (const paper of ["light", "dark"]) {
      await p.value(`document.documentElement.dataset.paper = "${paper}"`);
      await p.picture(`${name}-${paper}`);
      if (name === "laptop" || name === "tablet-upright") await p.audited(`${name}, ${paper} paper`);
    }
    if (name === "laptop") await printed(place, p);
    p.quiet();
    await p.close();
  }
  await s.end("SIGINT");
}

/** The print says that it is no template, on dark paper too. */
async function printed(place, p) {
  for (const [paper, size] of Object.entries({ a4: [8.27, 11.69], letter: [8.5, 11] })) {
    const { data } = await p.send("Page.printToPDF", { paperWidth: size[0], paperHeight: size[1], printBackground: true });
    const pdf = join(place.folder, `board-print-${paper}.pdf`);
    writeFileSync(pdf, Buffer.from(data, "base64"));
    const text = execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" });
    claim(/NOT TO SCALE: cut from the template only/.test(text), `the print on ${paper} is stamped`, text.slice(0, 300));
    claim(!/\bUndo\b|Take out/.test(text) && /Findings/.test(text), "and has findings and no buttons");
    // printed as it stands a dark page would be black
    const grey = execFileSync("pdftoppm", ["-r", "20", "-f", "1", "-l", "1", "-gray", pdf], { encoding: "latin1" });
    const dots = [...grey.slice(-grey.length * 0.99)].map((c) => c.charCodeAt(0));
    const white = dots.filter((d) => d > 240).length / dots.length;
    claim(white > 0.6, `dark paper prints on white: ${(100 * white).toFixed(0)} % of the sheet`);
  }
  claim((await p.value(`[...document.querySelectorAll("#view [data-layer]")].every((e) => !/cut/i.test(e.dataset.layer))`)) === true, "the view has no layer to cut by");
}
