// Several items turned about their common middle, mirrored about a line that is shown, and one taken out that another stands beside:
// each is one step, and the page says beforehand and afterwards what it is about.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve } from "./hands.mjs";

export default async function turning(place) {
  const file = join(place.desk, "turning.json");
  writeFileSync(file, PANEL);
  const s = await serve(place.program, file);
  const p = await open(place, s.address, 1280, 800);
  const { choose, click, item } = p;
  const steps = () => p.value("board.state.undo");
  const words = (id) => p.value(`document.getElementById("${id}").innerText`);
  const back = () => p.changed(() => click("undo"));
  /** The mouse comes to stand on a button. */
  const over = async (id) => {
    const [x, y] = await p.value(`(() => { const r = document.getElementById("${id}").getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`);
    await p.mouse("mouseMoved", x, y, { button: "none", buttons: 0 });
  };

  // turned
  await choose("one", "two");
  await over("turn-left");
  await p.till("document.querySelector('#guide text')?.textContent.includes('turned about here')", "the middle is shown before anything is turned");
  const mark = await p.value("[...document.querySelectorAll('#guide line')].map((l) => ['x1', 'x2', 'y1', 'y2'].map((k) => Number(l.getAttribute(k))))");
  const [mx, my] = await p.value(`(() => { const v = board.state.view; return [111 * v.scale + v.shift[0], v.height - (75 * v.scale + v.shift[1])]; })()`);
  claim(Math.abs((mark[0][0] + mark[0][1]) / 2 - mx) < 1e-6 && Math.abs((mark[1][2] + mark[1][3]) / 2 - my) < 1e-6, "at 111 right, 75 up", { mark, mx, my });
  await p.picture("turn-about");
  await p.changed(() => click("turn-left"));
  let [one, two] = [await item("one"), await item("two")];
  claim(JSON.stringify([one.at, two.at, one.turn, two.turn]) === "[[111,24],[111,126],90,90]" && (await steps()) === 1, "a quarter turn about the common middle, in one step", [one, two, await steps()]);
  claim(/one, two turned by 90° about 111 mm right, 75 mm up/.test(await words("did")), "it is said what was done", await words("did"));
  await p.picture("turned");
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  const want = PANEL.replace('[60,  75] }', '[111, 24], "turn": 90 }').replace('"right-of": "one", "pitch": 102 }', '"above": "one", "pitch": 102, "turn": 90 }');
  claim(readFileSync(file, "utf8") === want, "what stood right of it stands above it by the same pitch", readFileSync(file, "utf8"));
  await back();
  await p.key("Escape");
  claim((await words("did")) === "", "what is undone is no longer said");

  // by degrees: one that would pass the item it stands right of stands by coordinates then, which is asked about
  await choose("one", "two");
  claim((await words("turn-head")) === "Turn by, degrees" && (await words("place")) === "Turn by it", "the field says that several are turned on by it", [await words("turn-head"), await words("place")]);
  await p.value("(() => { const t = document.getElementById('turn'); t.focus(); t.value = '-225'; })()");
  await p.key("Enter");
  await p.till("document.getElementById('ask').open", "coordinates are asked about");
  claim((await item("two")).at[0] === 162, "and nothing was moved yet");
  await p.changed(() => p.value("document.querySelector('#ask-answers button').click()"));
  [one, two] = [await item("one"), await item("two")];
  const d = 51 * Math.SQRT1_2;
  const off = (i, x, y) => Math.hypot(i.at[0] - x, i.at[1] - y);
  claim(off(one, 111 + d, 75 - d) < 1e-4 && off(two, 111 - d, 75 + d) < 1e-4 && one.turn === 135 && two.turn === 135 && (await steps()) === 1, "by 225 degrees clockwise about the middle", [one, two]);
  await back();
  await choose("one", "two");
  await p.value("(() => { const t = document.getElementById('turn'); t.focus(); t.value = 'half'; })()");
  await p.key("Enter");
  await p.till("document.getElementById('notice').textContent.includes('half')", "a word that is no angle is refused");

  // mirrored: the button says about what, the line is drawn, what was done is told
  await choose("one", "two");
  await click("more");
  claim(/about x 200 mm, the sheet's centre line; each instrument stays as it is/.test(await words("mirror")), "the button says about which line", await words("mirror"));
  claim(/about x 111 mm; each instrument stays as it is/.test(await words("swap")), "and the other about which other", await words("swap"));
  await over("mirror");
  await p.till("document.querySelector('#guide text')?.textContent === \"mirrored about x 200 mm, the sheet's centre line\"", "the line is drawn with its name");
  const lines = await p.value("[...document.querySelectorAll('#guide line')].map((l) => [l.getAttribute('x1'), l.getAttribute('x2')].map(Number))");
  const centre = await p.value("200 * board.state.view.scale + board.state.view.shift[0]");
  claim(lines.length === 1 && lines[0].every((x) => Math.abs(x - centre) < 1e-6), "upright, at 200 mm", { lines, centre });
  await p.picture("mirror-about");
  await p.audited("with the line of the mirror image shown");
  await p.changed(() => click("mirror"));
  claim(/Places of one, two mirrored about x 200 mm, the sheet's centre line; the instruments themselves are not mirrored/.test(await words("did")), "what was done is said on the sheet", await words("did"));
  await p.picture("mirrored");
  claim((await item("one")).at[0] === 340 && (await item("two")).at[0] === 238, "and it was", [await item("one"), await item("two")]);
  await back();

  // taken out, though another stands beside it
  await choose("one");
  await p.key("Delete");
  await p.till("document.getElementById('ask').open && document.getElementById('ask-words').textContent.includes('two')", "what stands beside it is named, and asked about");
  claim((await item("one")) !== null && (await steps()) === 0, "nothing is done before the answer");
  await p.picture("take-out");
  await p.value("[...document.querySelectorAll('#ask-answers button')].at(-1).click()");
  claim((await item("one")) !== null && (await steps()) === 0, "left, all is as it was");
  await p.key("Delete");
  await p.till("document.getElementById('ask').open", "asked again");
  await p.changed(() => p.value("document.querySelector('#ask-answers button').click()"));
  claim((await item("one")) === null && JSON.stringify((await item("two")).at) === "[162,75]" && (await steps()) === 1, "agreed to, it is gone and the other stands where it stood, in one step", await item("two"));
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  const without = PANEL.replace('    { "id": "one", "instrument": "vent/60mm", "at": [60,  75] },\n', "").replace('"right-of": "one", "pitch": 102', '"at": [162, 75]');
  claim(readFileSync(file, "utf8") === without, "the relation has become coordinates, all else as it was", readFileSync(file, "utf8"));
  await back();
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  claim(readFileSync(file, "utf8") === PANEL, "one step back brings every byte back", readFileSync(file, "utf8"));
  p.quiet();
  await s.end("SIGINT");
}
