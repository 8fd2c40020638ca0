// The README's pictures of the board. They are looked at, not compared: letters and lines differ a little from browser to browser.
//
//   node pictures.mjs PROGRAM      from the root of the repository; CHROMIUM names the browser
import { copyFileSync, cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { faults, open, pause, serve } from "./board/hands.mjs";
import byPhotograph from "./board/photograph.mjs";
import { start } from "./chromium.mjs";

const program = resolve(process.argv[2]);
const root = process.cwd();
const folder = join(root, "assets", "pictures");

/** Runs something in a folder of its own, with a browser. @param {(place: any) => Promise<void>} run @param {boolean} gl */
async function by(run, gl) {
  const desk = mkdtempSync(join(tmpdir(), "board-"));
  const profile = mkdtempSync(join(tmpdir(), "board-browser-"));
  const browser = start(process.env.CHROMIUM ?? "chromium", profile, [], gl);
  // the page shows the file's name as it was given
  process.chdir(desk);
  try {
    await run({ browser, program, folder: desk, desk });
  } finally {
    process.chdir(root);
    await browser.close();
    for (const gone of [profile, desk]) rmSync(gone, { recursive: true, force: true, maxRetries: 5 });
  }
}

await by(async (place) => {
  cpSync(join(root, "panels", "corncrake"), place.desk, { recursive: true });
  const s = await serve(program, "whole-proposed.json");
  const p = await open({ ...place, folder }, s.address, 1600, 1000);
  const [x, y] = await p.centre("hours");
  await p.mouse("mousePressed", x, y);
  // to the edge of the room above the display
  const [u, v] = await p.centre("centre:display");
  for (let k = 1; k <= 12; k++) await p.mouse("mouseMoved", x + ((u - 40 - x) * k) / 12, y + ((v - 96 - y) * k) / 12);
  await p.till("document.querySelector('#region path')", "where it fits is shaded");
  await p.till("!document.getElementById('counts').textContent.includes('still checking')", "every rule has answered");
  await pause(500);
  await p.picture("held");
  await s.end("SIGINT");
}, false);
await by(async (place) => {
  cpSync(join(root, "panels", "dunlin"), place.desk, { recursive: true });
  const s = await serve(program, "proposed.json");
  const p = await open({ ...place, folder }, s.address, 1600, 1000);
  await p.choose("tach");
  await p.click("face-solid");
  await p.till("behind.solid?.head && behind.drivers.gap", "the solids are shown");
  await p.click("behind-large");
  await p.click("from-side");
  await p.click("from-seat");
  await p.till("!document.getElementById('gap-staying').disabled", "the least clearance is known");
  await p.click("gap-staying");
  await pause(1500);
  await p.picture("behind");
  await s.end("SIGINT");
}, true);
await by(async (place) => {
  await byPhotograph(place);
  copyFileSync(join(place.desk, "board-photograph-traced.png"), join(folder, "board-photograph.png"));
}, false);
process.exit(faults ? 1 : 0);
