// How long the findings take on a panel of a thousand placements; printed, no test is timed.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { ALT, claim, open, pause, serve } from "./hands.mjs";

const COLUMNS = 40, ROWS = 25, PITCH = 62;

/** A sheet full of vents, each by its coordinates. */
function large() {
  const place = [];
  for (let r = 0; r < ROWS; r++) {
    for (let c = 0; c < COLUMNS; c++) place.push({ id: `v-${r}-${c}`, instrument: "vent/44mm", at: [40 + PITCH * c, 40 + PITCH * r] });
  }
  const outline = `M 0 0 H ${80 + PITCH * (COLUMNS - 1)} V ${80 + PITCH * (ROWS - 1)} H 0 Z`;
  return JSON.stringify({ format: 1, panel: "A thousand", unit: "mm", sheet: { material: "6061-T6", thickness: 2, new: true, outline }, place });
}

/** Drags one of a thousand about and tells how long the findings took. */
export default async function thousand(place) {
  const path = join(place.desk, "thousand.json");
  writeFileSync(path, large());
  const s = await serve(place.program, path);
  const p = await open(place, s.address);
  const placed = await p.value("board.state.items.filter((i) => !i.label && !i.held).length");
  claim(placed === COLUMNS * ROWS, "a thousand placements stand on the board", placed);
  await p.picture("thousand");
  const id = "v-12-20";
  const [x, y] = await p.centre(id);
  await p.mouse("mousePressed", x, y);
  await p.mouse("mouseMoved", x + 8, y);
  await pause(4000);
  await p.send("Network.disable");
  await p.value("board.waits.length = 0");
  for (let k = 0; k < 100; k++) {
    // with Alt it comes to rest nowhere: each place is another
    await p.mouse("mouseMoved", x + 40 * Math.sin(k / 12), y + 20 * Math.cos(k / 9), { modifiers: ALT });
    await pause(16);
  }
  await p.till("!document.getElementById('counts').textContent.includes('still checking')", "when the hand rests every rule has answered");
  await p.picture("thousand-held");
  const waits = await p.value("board.waits");
  const p95 = [...waits].sort((a, b) => a - b)[Math.floor(waits.length * 0.95)]?.toFixed(1);
  claim(waits.length > 5, `findings came ${waits.length} times while one of a thousand was dragged`);
  console.log(`     ${placed} placements: handler to findings p95 ${p95} ms of ${waits.length}`);
  await p.mouse("mouseReleased", x, y);
  p.quiet();
  await s.end("SIGINT");
}
