// What is traced on a photograph is lost by no slowness, no reload and no end of the program; arcs, rounded corners and typed
// readings; a survey taken up again; all of it into a panel in inches.
import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, serve } from "./hands.mjs";
import { picker } from "./picker.mjs";
import { HOLES, lies, photograph, sees, SLOT, TARGETS } from "./scene.mjs";

/** Every message of the page goes out `late` ms after it was sent; `sockets` are those that were opened. */
const SLOW = `(() => {
  const send = WebSocket.prototype.send;
  window.late = 0;
  window.sockets = [];
  WebSocket.prototype.send = function (m) {
    if (!sockets.includes(this)) sockets.push(this);
    if (window.late) setTimeout(() => this.readyState === 1 && send.call(this, m), window.late);
    else send.call(this, m);
  };
})()`;
/** The sheet as it is traced: a rounded corner, and an arc about a middle by two places and its end. */
const ROUND = 12, ARC = { middle: [360, 110], radius: 40 };
const along = (turn) => [ARC.middle[0] + ARC.radius * Math.cos(turn), ARC.middle[1] + ARC.radius * Math.sin(turn)];

/** Area of a closed shape of lines and arcs as a panel file lists it: triangles from the first place, and the segments of a
 * circle between an arc and its chord (radius² / 2 times angle less its sine). */
function area(pieces, mm) {
  const places = pieces.map((p) => (p.to ?? p).map((v) => v * mm));
  let sum = 0;
  for (const [k, p] of pieces.entries()) {
    const [a, b] = [places[(k + places.length - 1) % places.length], places[k]];
    sum += (a[0] * b[1] - a[1] * b[0]) / 2;
    if (!p.to) continue;
    const chord = Math.hypot(b[0] - a[0], b[1] - a[1]);
    let [angle, left] = [0, p.turn === "counter-clockwise"];
    if (p.radius) angle = 2 * Math.asin(chord / 2 / (p.radius * mm));
    else {
      const t = p.through.map((v) => v * mm);
      const side = (t[0] - a[0]) * (b[1] - t[1]) - (t[1] - a[1]) * (b[0] - t[0]);
      // the angle at the place between is half of what is left of the round
      const at = Math.acos(((a[0] - t[0]) * (b[0] - t[0]) + (a[1] - t[1]) * (b[1] - t[1])) / (Math.hypot(a[0] - t[0], a[1] - t[1]) * Math.hypot(b[0] - t[0], b[1] - t[1])));
      [angle, left] = [2 * Math.PI - 2 * at, side > 0];
    }
    const radius = chord / 2 / Math.sin(angle / 2);
    sum += ((left ? 1 : -1) * radius ** 2 * (angle - Math.sin(angle))) / 2;
  }
  return sum;
}

export default async function byTracing(place) {
  const { program } = place;
  const desk = join(place.desk, "traced");
  mkdirSync(desk);
  const panel = join(desk, "inches.json");
  writeFileSync(panel, PANEL.replace('"unit": "mm"', '"unit": "in"').replace("M 0 0 H 400 V 150 H 0 Z", "M 0 0 H 15.75 V 5.9 H 0 Z")
    .replace("[60,  75]", "[2.4, 3]").replace('"pitch": 102', '"pitch": 4').replace("[330, 70]", "[13, 2.8]"));
  writeFileSync(join(desk, "front.png"), photograph());
  let s = await serve(program, panel);
  let p = await open({ ...place, before: SLOW }, s.address, 1280, 720);
  let { state, told, news, says, choose, look, at, press, type, known, hand, pick } = picker(p);
  const begin = async () => {
    await p.click("photo");
    await p.till("board.photograph.state", "the view opens");
  };
  const begun = async () => (await state()).begun;
  await begin();
  await told(() => look("front.png"));
  for (const mm of Object.values(TARGETS)) {
    await told(() => press(sees(mm)));
    await known(mm.map((v) => `${v} mm`));
  }
  claim((await state()).told?.points.length === 7, "places typed in mm hold a picture in a survey in inches", (await state()).missing);

  // presses faster than the program: one that is refused, then two corners; a page that works at a sixth of its speed
  await p.send("Emulation.setCPUThrottlingRate", { rate: 6 });
  await p.value("window.late = 1500");
  await hand("hole");
  await press(sees([140, 60]));
  await hand("line");
  for (const corner of [[0, 0], [400, 0]]) await press(sees(corner));
  const marks = await p.value("[document.querySelectorAll('#ph-over .ph-waits').length, document.getElementById('ph-scale').textContent]");
  claim(marks[0] === 6 && marks[1].includes("has not answered 3"), "what is not answered yet is marked and counted", marks);
  await p.till("board.photograph.state.begun.outline.length === 2", "both corners are taken in the end");
  claim((await news()).includes("there is no edge within"), "and the refusal before them is still to be read", await news());
  await p.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  // the connection breaks: what is pressed meanwhile goes out when it is there again
  await p.value("(() => { window.late = 0; sockets.at(-1).close(); })()");
  await p.till("document.documentElement.dataset.wire === 'lost'", "the connection is lost");
  await says("does not answer", "and the view says it");
  await hand("arc");
  await press(sees(along(0)));
  await p.till("board.photograph.state.begun.through", "a press while nobody answered is taken when somebody does");
  await told(() => p.click("ph-undo"));

  // corners that make no outline yet outlive the page, and the program
  const before = await begun();
  await p.value("location.reload()");
  await p.till("window.board?.state && !board.photograph.state", "the page is new");
  await begin();
  claim(JSON.stringify(await begun()) === JSON.stringify(before), "two corners of an outline outlive the page", await begun());
  await hand("opening");
  for (const corner of SLOT.slice(0, 2)) await told(() => press(sees(corner)));
  const left = await begun();
  await s.end("SIGKILL");
  s = await serve(program, panel);
  p = await open({ ...place, before: SLOW }, s.address, 1280, 720);
  ({ state, told, news, says, choose, look, at, press, type, known, hand, pick } = picker(p));
  await begin();
  await says("Taken up where the program was ended", "what was picked before the program was killed is taken up");
  let m = await state();
  claim(left.opening.length === 2 && JSON.stringify(m.begun) === JSON.stringify(left) && m.told?.points.length === 7, "with what was begun", [m.begun, left]);
  await p.picture("photograph-begun");

  // the opening goes on; Escape gives up the rest, undo brings it back
  await hand("opening");
  for (const corner of [...SLOT.slice(2), SLOT[0]]) await told(() => press(sees(corner)));
  m = await state();
  claim(m.draft["as-found"].openings[0].points.length === 4 && m.begun.outline.length === 2, "it is closed by its first corner", m.draft["as-found"]);
  // the browser's own Escape needs the key's number
  await told(() => p.send("Input.dispatchKeyEvent", { type: "rawKeyDown", key: "Escape", code: "Escape", windowsVirtualKeyCode: 27 }));
  claim((await begun()).outline.length === 0, "Escape gives up what was begun");
  await told(() => p.click("ph-undo"));
  claim((await begun()).outline.length === 2, "undo brings it back", await begun());

  // the outline goes on by a line, an arc, lines; a corner is rounded
  await hand("line");
  await told(() => press(sees(along(0))));
  await hand("arc");
  for (const turn of [Math.PI / 4, Math.PI / 2]) await told(() => press(sees(along(turn))));
  await hand("line");
  await told(() => press(sees([0, 150])));
  m = await state();
  const outline = m.draft["as-found"].outline;
  claim(outline.length === 5 && outline[3].through, "a line and an arc go on from there", outline);
  const corner = async (id, words) => {
    await pick(id);
    await type("ph-radius", words);
    await told(() => p.click("ph-round"));
  };
  await corner(outline[0], `${ROUND} mm`);
  await corner(m.draft["as-found"].openings[0].points[0], "3 mm");
  m = await state();
  claim(m.draft["as-found"].outline[0].radius === `${ROUND} mm` && m.draft["as-found"].openings[0].points[0].radius === "3 mm", "corners are rounded", m.draft["as-found"]);
  await pick(outline[3].to);
  claim(await p.value("document.getElementById('ph-radius').disabled"), "one that an arc leads to is not");
  const on = m.told.outline.map(lies).filter(([x, y]) => x > 361 && y > 111 && Math.abs(Math.hypot(x - ARC.middle[0], y - ARC.middle[1]) - ARC.radius) < 0.2);
  claim(on.length > 20, "and the arc is drawn where it is", on);
  await p.picture("photograph-arc");
  await hand("hole");
  const [x, y, r] = HOLES[1];
  await told(() => press(sees([x + r, y])));

  // readings that are typed: one that fits, one that is wrong, taken out again
  const reading = async (a, b, words) => {
    await p.value(`(() => { for (const [k, v] of [["ph-a", "${a}"], ["ph-b", "${b}"]]) document.getElementById(k).value = v; })()`);
    await type("ph-reads", words);
    await told(() => p.key("Enter"));
  };
  await reading("hole-1", "", `${2 * r} mm`);
  const far = Math.hypot(TARGETS.T2[0] - TARGETS.T1[0], TARGETS.T2[1] - TARGETS.T1[1]);
  await reading("T1", "T2", `${far + 25} mm`);
  m = await state();
  m.told.readings.sort((a, b) => a.n - b.n);
  claim(m.told.readings.length === 2 && m.told.readings[0].verdict === "fits", "a reading by calipers fits the picture", m.told.readings);
  claim(m.told.suspects.some((w) => w.words.includes("T1")) && /aside|disagrees/.test(m.told.readings[1].verdict), "a wrong one by tape is named", [m.told.suspects, m.told.readings]);
  await told(() => p.value("document.querySelector('#ph-readings button[aria-label*=distance]').click()"));
  await type("ph-reads", "long");
  await p.key("Enter");
  await says("long", "no length is refused by its words");

  // the picture: how well it was picked, what the lens does
  await p.value("for (const d of document.querySelectorAll('.ph-side details')) d.open = true");
  await type("ph-deviation", "0.5");
  await p.value("document.getElementById('ph-lens').value = 'no'");
  await told(() => p.value("document.getElementById('ph-of').requestSubmit()"));
  m = await state();
  claim(m.draft.photographs[0].deviation === 0.5 && m.draft.photographs[0].lens === false && m.told.deviation === 0.5 && m.told.lens === null, "deviation and lens are said", m.draft.photographs[0].lens);
  await type("ph-deviation", "none");
  await p.value("document.getElementById('ph-of').requestSubmit()");
  await says("from 0.01 to 1000", "a deviation is a number");

  // another name and a place are one step; a name that is there already puts nothing anywhere
  await pick("T6");
  await type("ph-id", "T7");
  await type("ph-x", "1 mm");
  await p.key("Enter");
  await says("there is a T7 already", "a name that is there is refused");
  const at7 = (await state()).draft.points.find((q) => q.id === "T7").at;
  claim(at7[0] === `${TARGETS.T7[0]} mm`, "and the other point stays where it was", at7);

  // saved, another picture begun, taken up again
  await type("ph-name", "traced");
  await told(() => p.click("ph-save"));
  const saved = readFileSync(join(desk, "traced.json"), "utf8");
  await told(() => look("front.png"));
  claim((await state()).draft.photographs[0].picks.length === 0, "another survey is begun");
  await told(() => choose("take-up:traced.json"));
  m = await state();
  claim(m.name === "traced.json" && !m.changed && m.told?.outline.length > 0, "the first is taken up as it was saved", [m.name, m.changed]);
  await pick("T6");
  await type("ph-id", "mark");
  await told(() => p.key("Enter"));
  await told(() => p.click("ph-save"));
  claim(readFileSync(join(desk, "traced.json"), "utf8") === saved.replaceAll('"T6"', '"mark"'), "and saved again with one name changed and no other byte");

  // into the panel, in its inches
  await p.value("for (const i of document.querySelectorAll('#ph-take-list input')) i.checked = true");
  await p.click("ph-preview");
  await p.till("document.querySelectorAll('#ph-take-lines li').length > 0", "what would be written is told");
  await p.changed(() => p.click("ph-take"));
  await p.click("ph-close");
  await p.click("save");
  await p.till("board.state.changed === false", "the panel is saved");
  const taken = JSON.parse(readFileSync(panel, "utf8"));
  const want = 400 * 150 - (1 - Math.PI / 4) * (ARC.radius ** 2 + ROUND ** 2);
  const got = area(taken.sheet.outline["lines-and-arcs"], 25.4);
  claim(Math.abs(got - want) < 20, "the outline's area, arcs and all, is that of the sheet", [got, want, taken.sheet.outline]);
  const hole = taken["old-openings"].find((o) => o.id === "hole-1").shape.circle.of * 25.4;
  claim(Math.abs(hole - 2 * r) < 0.1, "the hole's diameter too", hole);
  const slot = taken["old-openings"].find((o) => o.id === "opening-1");
  // its corners' mean, in inches; the rounded corner counts by the corner itself
  claim(Math.abs(slot.at[0] * 25.4 - 320) < 0.2 && Math.abs(slot.at[1] * 25.4 - 44) < 0.2 && / A 0\.118/.test(slot.shape.path), "and an opening by its corners", slot);
  const checked = JSON.parse(run(program, ["check", panel, "--format", "json"]));
  claim(JSON.stringify(checked).includes("opening-1"), "and the command checks it", Object.keys(checked));
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}

/** What the program prints, whatever it finds. */
function run(program, args) {
  try {
    return execFileSync(program, args).toString();
  } catch (e) {
    return String(e.stdout);
  }
}
