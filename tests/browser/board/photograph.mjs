// The photograph is traced.
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, serve } from "./hands.mjs";
import { picker } from "./picker.mjs";
import { HOLES, photograph, png, sees, SLOT, TARGETS } from "./scene.mjs";

/** A picture from the panel's folder: points picked and given their places, residuals read, a wrong one found, the survey saved. */
export default async function byPhotograph(place) {
  const { program } = place;
  // a folder of its own: what stands beside it is out of reach, and goes with the rest
  const desk = join(place.desk, "opened");
  mkdirSync(desk);
  const panel = join(desk, "photo.json");
  writeFileSync(panel, PANEL);
  const whole = photograph();
  writeFileSync(join(desk, "front.png"), whole);
  writeFileSync(join(desk, "a-cut.png"), whole.subarray(0, whole.length / 2));
  writeFileSync(join(desk, "a-words.png"), "no picture");
  writeFileSync(join(desk, "a-wide.png"), png(20000, 16, new Uint8Array(20000 * 16)));
  writeFileSync(join(place.desk, "away.png"), whole);
  symlinkSync(join(place.desk, "away.png"), join(desk, "a-link.png"));
  const s = await serve(program, panel);
  const p = await open(place, s.address, 1280, 720);
  const { state, told, news, says, look, at, press, type, known, hand } = picker(p);

  await p.click("photo");
  await p.till("board.photograph.state", "the view opens");
  const listed = (await state()).pictures;
  claim(["a-cut.png", "a-words.png", "a-wide.png", "a-link.png", "front.png"].every((n) => listed.includes(n)), "pictures beside the panel are listed", listed);
  for (const [name, words] of [["a-cut.png", "cannot be read to its end"], ["a-words.png", "is no picture in PNG or JPEG"], ["a-wide.png", "20000 by 16 pixels"], ["a-link.png", "outside the panel's folder"]]) {
    await look(name);
    await says(words, `${name} is refused: ${words}`);
  }
  claim((await news()).includes("copy the file itself"), "and it is said what to do", await news());
  await told(() => look("front.png"));
  claim((await p.value("document.getElementById('ph-says').textContent")).includes("Withheld"), "without picks all is withheld");

  // four known points: nothing checks them, and it says so
  for (const [id, mm] of Object.entries(TARGETS).slice(0, 4)) {
    await told(() => press(sees(mm)));
    const chosen = await p.value("document.getElementById('ph-id').value");
    claim(chosen === id, `the pick is called ${id}`, chosen);
    // one in inches
    await known(id === "T2" ? [`${mm[0] / 25.4} in`, String(mm[1])] : mm.map(String));
  }
  let m = await state();
  claim(m.told && m.told.freedom === 0 && m.told.says.some((w) => w.includes("Nothing checks these picks")), "four known points hold it and nothing checks them", m.told?.says ?? m.missing);
  for (const mm of Object.values(TARGETS).slice(4)) {
    await told(() => press(sees(mm)));
    await known(mm.map(String));
  }
  m = await state();
  claim(m.told.points.length === 7 && m.told.rms < 1.2 && m.told.suspects.length === 0, "seven picks agree within a pixel or so", [m.told.rms, m.told.suspects]);
  const far = m.told.points.map((q) => Math.hypot(q.shows[0] - sees(TARGETS[q.id])[0], q.shows[1] - sees(TARGETS[q.id])[1]));
  claim(Math.max(...far) < 1.5, "every target shows where the camera has it", far);
  await p.picture("photograph-picks");

  // one is put at a wrong place, by eleven pixels
  const right = sees(TARGETS.T5);
  await told(async () => {
    const [x, y] = await at(right);
    await p.mouse("mousePressed", x, y);
    const [a, b] = await at([right[0] + 9, right[1] - 7]);
    for (let k = 1; k <= 4; k++) await p.mouse("mouseMoved", x + ((a - x) * k) / 4, y + ((b - y) * k) / 4);
    await p.mouse("mouseReleased", a, b);
  });
  m = await state();
  claim(m.told.suspects.length > 0 && m.told.suspects[0].words.includes("the pick of T5"), "the wrong pick is found and named", m.told.suspects);
  const first = await p.value("document.querySelector('#ph-points tbody tr').dataset.id");
  claim(first === "T5", "and stands first in the list", m.told.points.map((q) => [q.id, q.verdict, q.px, q.test]));
  await p.picture("photograph-wrong");
  await told(() => p.click("ph-undo"));
  m = await state();
  claim(m.told.suspects.length === 0, "undo takes it back", m.told.suspects);

  // round holes by a click near the rim of each
  await hand("hole");
  for (const [k, [x, y, r]] of HOLES.entries()) {
    const [u, v] = sees([x + r * Math.cos(1 + k), y + r * Math.sin(1 + k)]);
    await told(() => press([u + 2, v - 1]));
    m = await state();
    const c = m.told.circles.find((c) => c.id === `hole-${k + 1}`);
    const off = c && [2 * r - c.diameter, Math.hypot(c.at[0] - x, c.at[1] - y)];
    console.log(`     ${2 * r} mm: ${c?.["diameter-words"]}, centre off by ${off?.[1].toFixed(3)} mm, told ${c?.doubt.toFixed(3)} mm`);
    claim(c && Math.abs(off[0]) <= c["diameter-doubt"] && off[1] <= c.doubt, "a round hole is found within the doubt told", [c?.diameter, off, c?.["diameter-doubt"], c?.doubt]);
    claim(c && c["diameter-doubt"] < 0.6 && c.doubt < 1.2, "and the doubt is a small one", [c?.["diameter-doubt"], c?.doubt]);
  }
  await p.picture("photograph-holes");
  await press(sees([320, 30]));
  await p.till("/not round|not enough edge|no circle/.test(document.getElementById('ph-news').textContent)", "a straight edge is no round hole, in words");
  await press(sees([140, 60]));
  await says("there is no edge within", "nor is bare metal");
  // the outline by its corners, an opening by its four
  await hand("line");
  for (const corner of [[0, 0], [400, 0], [400, 150], [0, 150]]) await told(() => press(sees(corner)));
  await hand("opening");
  for (const corner of [...SLOT, SLOT[0]]) await told(() => press(sees(corner)));
  m = await state();
  claim(m.draft["as-found"].outline.length === 4 && m.draft["as-found"].openings.length === 4, "outline and openings are traced", m.draft["as-found"]);
  await p.picture("photograph-traced");
  await hand("point");

  // the page is loaded again: nothing is lost
  await p.value("location.reload()");
  await p.till("window.board?.state && !board.photograph.state", "the page is new");
  await p.click("photo");
  await p.till("board.photograph.state?.told?.points.length === 15", "what was picked is there after the page was loaded again");
  await type("ph-name", "photo.json");
  await p.click("ph-save");
  await says("the panel itself", "the panel is not replaced by a survey");
  await type("ph-name", "seen");
  await told(() => p.click("ph-save"));
  const file = join(desk, "seen.json");
  claim(existsSync(file), "the survey is beside the panel");
  let json = "";
  try {
    json = execFileSync(program, ["survey", file, "--format", "json"]).toString();
  } catch (e) {
    json = String(e.stdout);
  }
  const said = JSON.parse(json);
  const t7 = said.points.find((q) => q.id === "T7");
  claim(t7 && Math.abs(t7.x - TARGETS.T7[0]) < 1e-6, "the command solves it", said.problems ?? t7);
  claim(readFileSync(panel, "utf8") === PANEL, "the panel's file is as it was");
  for (const [k, [x, y, r]] of HOLES.entries()) {
    const c = said.points.find((c) => c.id === `hole-${k + 1}`);
    const here = m.told.circles.find((q) => q.id === `hole-${k + 1}`);
    claim(c && Math.abs(2 * c.radius - here.diameter) < 1e-3 && Math.abs(c.x - x) < 0.1 && Math.abs(c.y - y) < 0.1 && Math.abs(c.radius - r) < 0.05, "and finds the hole that the board found", [c, here]);
  }
  await p.audited("in the view of the photograph");

  // into the panel: told first, then one step
  await p.click("ph-preview");
  await p.till("document.querySelectorAll('#ph-take-lines li').length > 0", "what would be written is told");
  const lines = await p.value("[...document.querySelectorAll('#ph-take-lines li')].map((l) => l.textContent)");
  claim(lines.length === 5 && lines[0].startsWith("sources") && lines.some((l) => l.includes('"hole-2"')), "one line for each thing", lines);
  await p.picture("photograph-take");
  await p.changed(() => p.click("ph-take"));
  await p.click("ph-under");
  await p.till("!document.getElementById('under-hands').hidden", "the straightened photograph lies under the drawing");
  await p.click("ph-close");
  await p.till("document.getElementById('under-image').getBBox().width > 0", "and has its size");
  // a place of the panel is where the drawing has it, in the picture too
  const laid = await p.value(`fetch(document.getElementById("under-image").getAttribute("href")).then((r) => r.blob()).then(createImageBitmap).then((b) => {
    const c = new OffscreenCanvas(b.width, b.height).getContext("2d");
    c.drawImage(b, 0, 0);
    const e = document.getElementById("under-image");
    const box = ["x", "y", "width", "height"].map((k) => Number(e.getAttribute(k)));
    const v = board.state.view;
    return [[70, 80], [322, 96], [322, 96 + 13], [322, 96 + 16], [320, 44], [240, 100], [291.5, 31.5], [288.5, 31.5]].map(([x, y]) => {
      const p = [x * v.scale + v.shift[0], v.height - (y * v.scale + v.shift[1])];
      return c.getImageData(((p[0] - box[0]) / box[2]) * b.width, ((p[1] - box[1]) / box[3]) * b.height, 1, 1).data[0];
    });
  })`);
  claim([0, 1, 2, 4, 6].every((k) => laid[k] < 75) && [3, 5, 7].every((k) => laid[k] > 140), "holes and metal of the photograph lie where the drawing has them", laid);
  await p.picture("photograph-under");
  await p.click("paper");
  await p.picture("photograph-under-dark");
  await p.click("paper");
  const paint = () => p.value("[document.getElementById('under-image').getAttribute('opacity'), document.getElementById('under').hasAttribute('hidden')].join()");
  await p.value("(() => { const r = document.getElementById('under-strength'); r.value = 30; r.dispatchEvent(new Event('input')); document.getElementById('under-on').click(); })()");
  claim((await paint()) === "0.3,true", "as pale as is wished, or not at all", await paint());
  await p.click("save");
  await p.till("board.state.changed === false", "the panel is saved");
  const taken = JSON.parse(readFileSync(panel, "utf8"));
  const hole = taken["old-openings"].find((o) => o.id === "hole-1");
  claim(hole && Math.abs(hole.shape.circle.of - 2 * HOLES[0][2]) < 0.1 && hole.source === "photograph", "the traced holes are in the panel's file", taken["old-openings"]);
  claim(taken["old-openings"].length === 4 && taken.sources.photograph.document.startsWith("seen.json"), "with their source", taken.sources);
  await p.changed(() => p.click("undo"));
  claim(!(await p.value("board.state.changed === false")), "one step of undo takes all of it back");
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
