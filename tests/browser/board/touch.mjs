// The board on a tablet, by fingers alone: an item dragged, several chosen by a long press and by a band, the sheet pushed and drawn
// nearer by two fingers. Places are worked out from where the fingers went.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, pause, serve } from "./hands.mjs";

export default async function touch(place) {
  const file = join(place.desk, "touch.json");
  writeFileSync(file, PANEL);
  const s = await serve(place.program, file);
  const p = await open(place, s.address, 1024, 768);
  await p.send("Emulation.setDeviceMetricsOverride", { width: 1024, height: 768, deviceScaleFactor: 2, mobile: true });
  await p.send("Emulation.setTouchEmulationEnabled", { enabled: true, maxTouchPoints: 5 });
  const fingers = (type, ...points) => p.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([x, y], id) => ({ x, y, id, radiusX: 6, radiusY: 6 })) });
  /** One finger from place to place in small steps; `rest` ms before it goes. */
  const drag = async (from, to, rest = 0) => {
    await fingers("touchStart", from);
    if (rest) await pause(rest);
    for (let k = 1; k <= 10; k++) await fingers("touchMove", [0, 1].map((i) => from[i] + ((to[i] - from[i]) * k) / 10));
    // moves are told with the next frame
    await pause(100);
  };
  const tap = async (at, rest = 0) => {
    await fingers("touchStart", at);
    if (rest) await pause(rest);
    await fingers("touchEnd");
  };
  const seen = () => p.value("document.getElementById('over').getAttribute('viewBox').split(' ').map(Number)");
  const chosen = () => p.value("board.chosen.join()");
  const LONG = 800;

  // dragged
  const mm = await p.pixels();
  const [x, y] = await p.centre("three");
  await drag([x, y], [x - 17 * mm, y + 20 * mm]);
  await p.till("document.documentElement.dataset.holding !== undefined && document.querySelectorAll('#arrows g').length > 0", "the item follows the finger, with arrows");
  await p.picture("touch-held");
  await p.changed(() => fingers("touchEnd"));
  const [ax, ay] = await p.at("three");
  claim(Math.abs(ax - 313) <= 0.51 && Math.abs(ay - 50) <= 0.51, "dragged by 17 mm and 20 mm, to the grid of 1 mm", [ax, ay]);
  // a second finger while one drags gives the drag up
  const [bx, by] = await p.centre("three");
  await drag([bx, by], [bx + 40, by]);
  await fingers("touchStart", [bx + 40, by], [bx + 40, by + 150]);
  claim((await p.value("board.held === null && document.documentElement.dataset.holding === undefined")) === true, "a second finger gives the drag up");
  await fingers("touchEnd");
  await pause(100);
  claim(JSON.stringify(await p.at("three")) === JSON.stringify([ax, ay]) && (await p.value("board.state.undo")) === 1, "and nothing was moved", await p.at("three"));
  await p.value("document.getElementById('whole').click()");

  // several
  const centres = {};
  for (const id of ["one", "two", "three"]) centres[id] = await p.centre(id);
  const bare = await p.value("(() => { const r = document.getElementById('over').getBoundingClientRect(); return [r.left + 30, r.bottom - 30]; })()");
  await tap(bare);
  claim((await chosen()) === "", "a tap on the bare sheet chooses nothing");
  await tap(centres.one, LONG);
  claim((await chosen()) === "one" && (await p.value("document.getElementById('several').getAttribute('aria-pressed')")) === "true", "a long press begins to choose several", await chosen());
  await tap(centres.two);
  await tap(centres.three);
  claim((await chosen()) === "one,two,three", "each tap adds one", await chosen());
  await tap(centres.two);
  claim((await chosen()) === "one,three", "or takes it out", await chosen());
  await p.changed(() => p.value("document.getElementById('row').click()"));
  claim((await p.at("three"))[1] === 75, "and they are set in a row", await p.at("three"));
  await tap(bare);
  claim((await chosen()) === "" && (await p.value("document.getElementById('several').getAttribute('aria-pressed')")) === "false", "a tap on the bare sheet ends it");
  // a rest on the bare sheet, then a band about the two on the left
  const r = 42 * mm;
  await drag([centres.one[0] - r, centres.one[1] - r], [centres.two[0] + r, centres.two[1] + r], LONG);
  claim((await p.value("document.querySelectorAll('#band rect').length")) === 1 && (await p.value("[...document.querySelectorAll('[data-band]')].map((e) => e.dataset.id).sort().join()")) === "one,two", "after a rest a band is drawn, and what is in it is marked");
  await p.picture("touch-band");
  await fingers("touchEnd");
  claim((await chosen()) === "one,two", "and chosen", await chosen());

  // the sheet pushed by one finger on the bare sheet, and by two anywhere
  const before = await seen();
  const pixel = 1 / (await p.value("document.getElementById('over').getScreenCTM().a"));
  await drag(bare, [bare[0] + 100, bare[1] - 50]);
  await fingers("touchEnd");
  const pushed = await seen();
  // what the finger goes before it counts as a drag is not pushed: 8 pixels at the most, of steps of 10 and 5
  claim(Math.abs(before[0] - pushed[0] - 100 * pixel) < 12 * pixel && Math.abs(pushed[1] - before[1] - 50 * pixel) < 12 * pixel && pushed[2] === before[2], "one finger on the bare sheet pushes it", [before, pushed, pixel]);
  claim((await chosen()) === "one,two", "what is chosen stays chosen");
  await p.value("document.getElementById('whole').click()");
  const [cx, cy] = [400, 360];
  const spot = () => p.value(`(() => { const m = document.getElementById('over').getScreenCTM().inverse(); return [${cx} * m.a + m.e, ${cy} * m.d + m.f]; })()`);
  const whole = await seen();
  const spotted = await spot();
  await fingers("touchStart", [cx - 40, cy]);
  await fingers("touchStart", [cx - 40, cy], [cx + 40, cy]);
  for (let k = 1; k <= 10; k++) await fingers("touchMove", [cx - 40 - 4 * k, cy], [cx + 40 + 4 * k, cy]);
  await pause(100);
  const near = await seen();
  claim(Math.abs(whole[2] / near[2] - 2) < 0.02, "two fingers twice as far apart show it twice as large", [whole, near]);
  const now = await spot();
  claim(Math.hypot(now[0] - spotted[0], now[1] - spotted[1]) < 3 * pixel, "about the middle between them", [spotted, now]);
  for (let k = 1; k <= 10; k++) await fingers("touchMove", [cx - 80 + 6 * k, cy + 3 * k], [cx + 80 + 6 * k, cy + 3 * k]);
  await pause(100);
  const along = await seen();
  claim(Math.abs((near[0] - along[0]) / (pixel / 2) - 60) < 2 && Math.abs((near[1] - along[1]) / (pixel / 2) - 30) < 2 && Math.abs(along[2] / near[2] - 1) < 0.01, "two fingers side by side push it", [near, along]);
  await p.picture("touch-near");
  await fingers("touchEnd");
  claim((await chosen()) === "one,two", "and choose nothing", await chosen());

  await p.value("document.getElementById('save').click()");
  await p.till("board.state.changed === false", "saved");
  claim(readFileSync(file, "utf8") === PANEL.replace("[330, 70]", "[313, 75]"), "the file has what the fingers did and nothing else", readFileSync(file, "utf8"));
  p.quiet();
  await s.end("SIGINT");
}
