// The board in a real browser, each file of `board/` by itself.
//
//   node board.mjs PROGRAM FOLDER PANEL.json [NAME...]      pictures go into FOLDER; names of files leave out the others
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { claim, faults } from "./board/hands.mjs";
import { start } from "./chromium.mjs";

const [program, folder, largest, ...names] = process.argv.slice(2);
const ALL = ["by_hand", "by_buttons", "editing", "snap", "touch", "choosing", "turning", "numbers", "shelf", "layouts", "arrange", "keys", "strangers", "sizes", "photograph", "traced", "behind", "largest", "thousand"];
for (const name of names.length ? names : ALL) {
  const desk = mkdtempSync(join(tmpdir(), "board-"));
  const profile = mkdtempSync(join(tmpdir(), "board-browser-"));
  const { default: run, gl } = await import(`./board/${name}.mjs`);
  const browser = start(process.env.CHROMIUM ?? "chromium", profile, ["--host-resolver-rules=MAP panel.test 127.0.0.1"], gl);
  console.log(`-- ${name}`);
  try {
    await run({ browser, program, folder, desk, largest });
  } catch (e) {
    claim(false, `${name} came to its end`, String(e.stack));
  } finally {
    await browser.close();
    for (const gone of [profile, desk]) rmSync(gone, { recursive: true, force: true, maxRetries: 5 });
  }
}
process.exit(faults ? 1 : 0);
