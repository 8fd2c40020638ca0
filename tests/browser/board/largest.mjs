// How long the findings take on the largest panel; printed, no test is timed.
import { cpSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { claim, open, pause, serve } from "./hands.mjs";

/** Drags on the largest panel and tells how long the findings took. */
export default async function measured(place) {
  const { program, desk, largest } = place;
  // with the files beside it that it builds on
  cpSync(dirname(largest), join(desk, "largest"), { recursive: true });
  const copy = join(desk, "largest", basename(largest));
  const s = await serve(program, copy);
  const p = await open(place, s.address);
  await p.value("document.fonts.ready.then(() => true)");
  const painted = await p.value("performance.getEntriesByName('first-contentful-paint')[0]?.startTime");
  await p.picture("largest");
  // of the fuel gauge it is told that no place is free by all rules at once
  const [u, v] = await p.centre("fuel");
  await p.mouse("mousePressed", u, v);
  await p.till("document.getElementById('did').textContent === 'fuel fits nowhere on its sheet as it is turned.'", "what fits nowhere is told in words");
  await p.mouse("mouseReleased", u, v);
  await p.till("document.getElementById('did').textContent === ''", "and is told no more when it is let go");
  // when it is told where what is held fits
  await p.value(`import("./desk.js").then(({ wire }) => {
    addEventListener("pointerdown", () => { window.down_ = performance.now(); }, { once: true, capture: true });
    const own = wire.on.get("region");
    wire.on.set("region", (m) => { own(m); window.region_ ??= performance.now() - window.down_; });
  })`);
  const id = await p.value("board.state.items.find((i) => !i.label && !i.held && !i.locked).id");
  const [x, y] = await p.centre(id);
  await p.mouse("mousePressed", x, y);
  await p.mouse("mouseMoved", x + 8, y);
  await p.till("window.region_ !== undefined", `it is told where ${id} fits`);
  await p.till("!document.getElementById('counts').textContent.includes('still checking')", "and every rule has answered");
  await pause(500);
  // nobody listens in on the socket while it is measured
  await p.send("Network.disable");
  await p.value(`(() => { window.frames_ = []; let last = performance.now(); const f = (t) => { window.frames_.push(t - last); last = t; requestAnimationFrame(f); }; requestAnimationFrame(f); board.waits.length = 0; })()`);
  for (let k = 0; k < 150; k++) {
    await p.mouse("mouseMoved", x + 60 * Math.sin(k / 12), y + 30 * Math.cos(k / 9));
    await pause(16);
  }
  await p.till("!document.getElementById('counts').textContent.includes('still checking')", "when the hand rests every rule has answered");
  await p.picture("largest-held");
  const { waits, frames } = await p.value("({ waits: board.waits, frames: window.frames_.slice(2) })");
  const p95 = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length * 0.95)]?.toFixed(1);
  claim(waits.length > 5, `findings came ${waits.length} times while ${id} was dragged`);
  const region = await p.value("window.region_ ?? null");
  console.log(`     first paint after ${painted?.toFixed(0)} ms; where ${id} fits is told ${region?.toFixed(0)} ms after it was taken hold of`);
  const placed = await p.value("board.state.items.length");
  console.log(`     ${placed} items: handler to findings p95 ${p95(waits)} ms of ${waits.length}; frames p95 ${p95(frames)} ms of ${frames.length}`);
  await p.mouse("mouseReleased", x, y);
  await s.end("SIGINT");
}
