// Several items at once by mouse and keys: each gesture is one step of undo, and the file says what a person would write.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve, SHIFT } from "./hands.mjs";

export default async function editing(place) {
  const { program, desk } = place;
  const file = join(desk, "editing.json");
  writeFileSync(file, PANEL);
  const s = await serve(program, file);
  const p = await open(place, s.address, 1280, 720);
  const { choose, click, item } = p;
  const steps = () => p.value("board.state.undo");
  const back = () => p.changed(() => click("undo"));

  await choose("one", "two", "three");
  await p.changed(() => click("row"));
  claim((await steps()) === 1 && (await item("three")).at[1] === 75, "in a row is one step", [await steps(), await item("three")]);
  await back();

  // edges and gaps
  const wide = await p.value("board.state.items.find((i) => i.id === 'one').box");
  await choose("one", "three");
  await p.changed(() => click("edge-left"));
  const lefts = await p.value("['one', 'three'].map((id) => board.items.get(id).box[0])");
  claim(lefts.every((x) => Math.abs(x - wide[0]) < 1e-6) && (await steps()) === 1, "left edges in line with the first one's, in one step", lefts);
  await back();
  await choose("one", "two", "three");
  await p.changed(() => click("edge-upper"));
  const tops = await p.value("board.state.items.map((i) => i.box[3])");
  claim(tops.every((y) => Math.abs(y - wide[3]) < 1e-6), "upper edges too", tops);
  await back();
  await choose("one", "two", "three");
  await p.changed(() => click("gaps"));
  const boxes = await p.value("board.state.items.map((i) => i.box)");
  claim(Math.abs(boxes[1][0] - boxes[0][2] - (boxes[2][0] - boxes[1][2])) < 0.011 && (await p.at("one"))[0] === 60 && (await p.at("three"))[0] === 330, "equal gaps, the outer ones stay", boxes);
  await back();
  await choose("three");
  await p.changed(() => p.key("r"));
  await p.changed(() => p.key("R", SHIFT));
  await p.changed(() => p.key("R", SHIFT));
  claim((await item("three")).turn === 270, "R turns by a quarter, with Shift the other way", await item("three"));
  for (let k = 0; k < 3; k++) await back();

  // the menu lies over the desk: the desk keeps its size, so that nothing moves under the hand
  const size = () => p.value("document.getElementById('desk').getBoundingClientRect().height");
  const before = await size();
  await choose("one", "two");
  await click("more");
  claim((await size()) === before && (await p.value("!document.getElementById('more-list').hidden")), "the list of more opens over the desk", [before, await size()]);
  await p.picture("more");
  await p.audited("with the list of more open");
  await p.changed(() => click("mirror"));
  claim((await item("one")).at[0] === 340 && (await item("two")).at[0] === 238, "mirrored on the sheet", [await item("one"), await item("two")]);
  claim((await steps()) === 1 && (await p.value("document.getElementById('more-list').hidden")), "in one step, and the list is closed");
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  const want = PANEL.replace("[60,  75]", "[340, 75]").replace("right-of", "left-of");
  claim(readFileSync(file, "utf8") === want, "the relation is told from the other side, all else as it was", readFileSync(file, "utf8"));
  await back();

  await choose("one", "two");
  await p.changed(() => p.key("d", CONTROL));
  const copies = await p.value("board.chosen");
  claim(JSON.stringify(copies) === '["one-2","two-2"]' && (await steps()) === 1, "copies are chosen, one step", [copies, await steps()]);
  await p.changed(() => click("together"));
  await choose("three");
  await choose("one-2");
  claim(JSON.stringify(await p.value("board.chosen")) === '["one-2","two-2"]', "what is kept together is taken hold of together", await p.value("board.chosen"));
  await p.changed(() => click("provision"));
  claim((await item("one-2")).provision && (await item("two-2")).provision && !(await item("one")).provision, "both made provisions");
  await p.changed(() => click("delete"));
  claim((await item("one-2")) === null && (await item("two-2")) === null && (await steps()) === 4, "both taken out in one step", await steps());
  for (let k = 0; k < 4; k++) await back();
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  claim(readFileSync(file, "utf8") === PANEL, "undo brings every byte back", readFileSync(file, "utf8"));
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
