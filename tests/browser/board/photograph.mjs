// The photograph is traced.
import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, serve } from "./hands.mjs";
import { photograph, png, sees, TARGETS } from "./scene.mjs";

/** A picture from the panel's folder: points picked and given their places, residuals read, a wrong one found, the survey saved. */
export default async function byPhotograph(place) {
  const { program, desk } = place;
  const panel = join(desk, "photo.json");
  writeFileSync(panel, PANEL);
  const whole = photograph();
  writeFileSync(join(desk, "front.png"), whole);
  writeFileSync(join(desk, "a-cut.png"), whole.subarray(0, whole.length / 2));
  writeFileSync(join(desk, "a-words.png"), "no picture");
  writeFileSync(join(desk, "a-wide.png"), png(20000, 16, new Uint8Array(20000 * 16)));
  writeFileSync(join(desk, "..", "away.png"), whole);
  symlinkSync(join(desk, "..", "away.png"), join(desk, "a-link.png"));
  const s = await serve(program, panel);
  const p = await open(place, s.address, 1280, 720);
  const state = () => p.value("board.photograph.state");
  /** Does something and waits for what the server then tells. */
  const told = async (run) => {
    const before = await p.value("document.documentElement.dataset.photograph ?? ''");
    await run();
    await p.till(`(document.documentElement.dataset.photograph ?? "") !== ${JSON.stringify(before)}`, "the view tells the change");
  };
  const news = () => p.value("document.getElementById('ph-news').textContent");
  const look = async (name) => {
    await p.value(`(() => { document.getElementById("ph-pictures").value = "choose:${name}"; document.getElementById("ph-choose").click(); })()`);
  };
  /** Presses the mouse at a place of the picture. */
  const at = ([x, y]) => p.value(`(() => { const m = document.getElementById("ph-svg").getScreenCTM(); return [${x} * m.a + m.e, ${y} * m.d + m.f]; })()`);
  const press = async (q) => {
    const [x, y] = await at(q);
    await p.mouse("mouseMoved", x, y, { buttons: 0 });
    await p.mouse("mousePressed", x, y);
    await p.mouse("mouseReleased", x, y);
  };
  const type = (id, words) => p.value(`(() => { const e = document.getElementById("${id}"); e.focus(); e.value = ${JSON.stringify(words)}; })()`);
  const known = async (words) => {
    for (const [k, id] of ["ph-x", "ph-y"].entries()) await type(id, words[k]);
    await told(() => p.key("Enter"));
  };

  await p.click("photo");
  await p.till("board.photograph.state", "the view opens");
  const listed = (await state()).pictures;
  claim(["a-cut.png", "a-words.png", "a-wide.png", "a-link.png", "front.png"].every((n) => listed.includes(n)), "pictures beside the panel are listed", listed);
  for (const [name, words] of [["a-cut.png", "cannot be read to its end"], ["a-words.png", "is no picture in PNG or JPEG"], ["a-wide.png", "20000 by 16 pixels"], ["a-link.png", "outside the panel's folder"]]) {
    await look(name);
    await p.till(`document.getElementById("ph-news").textContent.includes(${JSON.stringify(words)})`, `${name} is refused: ${words}`);
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

  // the page is loaded again: nothing is lost
  await p.value("location.reload()");
  await p.till("window.board?.state && !board.photograph.state", "the page is new");
  await p.click("photo");
  await p.till("board.photograph.state?.told?.points.length === 7", "what was picked is there after the page was loaded again");
  await type("ph-name", "photo.json");
  await p.click("ph-save");
  await p.till("document.getElementById('ph-news').textContent.includes('the panel itself')", "the panel is not replaced by a survey");
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
  await p.audited("in the view of the photograph");
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
