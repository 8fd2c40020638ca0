// Somebody lays a panel out by mouse and by keys, a second page looks on, the file changes on the disk, the program is ended by
// force.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, pause, serve, SHIFT } from "./hands.mjs";


export default async function byHand(place) {
  const { program, desk } = place;
  const file = join(desk, "p.json");
  writeFileSync(file, PANEL);
  let s = await serve(program, file);
  const p = await open(place, s.address);
  await p.picture("start");

  // a neighbour
  const [x, y] = await p.centre("three");
  const [tx] = await p.centre("two");
  const [, ty] = await p.centre("two");
  await p.mouse("mousePressed", x, y);
  for (let k = 1; k <= 20; k++) await p.mouse("mouseMoved", x + ((tx + 60 - x) * k) / 20, y + ((ty - y) * k) / 20);
  await p.till(`[...document.querySelectorAll('#findings button')].some((b) => /fail/i.test(b.innerText) && b.innerText.includes('two') && b.innerText.includes('three'))`, "the finding is read while it is held");
  claim((await p.value("document.querySelectorAll('#arrows g').length")) > 0, "arrows to the neighbours");
  await p.till("document.querySelector('#region path')", "where it fits is shaded");
  claim((await p.value("document.querySelector('#snaps')?.textContent ?? ''")).includes("row of"), "the row that it came to rest in is named", await p.value("document.querySelector('#snaps').textContent"));
  claim(/^[1-9]\d* fail/.test(await p.value("document.getElementById('counts').textContent")), "the head counts it while it is held", await p.value("document.getElementById('counts').textContent"));
  await p.picture("held");
  await p.changed(() => p.mouse("mouseReleased", tx + 60, ty));
  claim((await p.at("three"))[1] === (await p.at("two"))[1], "it stands in the row exactly", await p.at("three"));
  claim((await p.list())[0].toLowerCase().startsWith("fail"), "the worst finding comes first", (await p.list())[0]);
  await p.picture("onto");
  await p.changed(() => p.key("z", CONTROL));
  claim(JSON.stringify(await p.at("three")) === "[330,70]", "undo brings it back", await p.at("three"));

  // exact entry
  await p.value(`document.querySelector('.item[data-id="three"]').focus()`);
  await p.key("Enter");
  await p.value(`(() => { const x = document.getElementById('x'); x.focus(); x.value = '12 7/8 in'; })()`);
  await p.changed(() => p.key("Enter"));
  claim(Math.abs((await p.at("three"))[0] - 12.875 * 25.4) < 1e-9, "12 7/8 in is 327.025 mm", await p.at("three"));

  // by keys alone: a relation survives
  await p.value(`document.querySelector('.item[data-id="two"]').focus()`);
  await p.key("Enter");
  await p.changed(() => p.key("ArrowRight", SHIFT));
  await p.changed(() => p.key("ArrowRight"));
  claim(Math.abs((await p.at("two"))[0] - 173) < 1e-9, "two nudges of 10 mm and 1 mm", await p.at("two"));
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  const saved = readFileSync(file, "utf8");
  const want = PANEL.replace('"pitch": 102', '"pitch": 113').replace("[330, 70]", '["12 7/8 in", 70]');
  claim(saved === want, "the file says the relation and the fraction, all else as it was", saved);
  let order = [];
  await p.value("document.activeElement.blur()");
  for (let k = 0; k < 80; k++) {
    await p.key("Tab");
    order.push(await p.value("document.activeElement.id || document.activeElement.dataset.id || document.activeElement.tagName"));
  }
  for (const id of ["undo", "add", "one", "two", "three", "findings", "grid"]) claim(order.includes(id), `Tab comes to ${id}`, order);

  // two pages
  const q = await open(place, s.address);
  await p.value(`document.querySelector('.item[data-id="one"]').focus()`);
  await p.key("Enter");
  await p.changed(() => p.key("ArrowUp"));
  await q.till("board.state.items.find((i) => i.id === 'one').at[1] === 76", "the second page follows the first");

  // the file changes on the disk
  const theirs = want.replace("Board in a browser", "Changed by an editor");
  writeFileSync(file, theirs);
  await p.till("document.getElementById('notice').textContent.includes('changed by another program')", "the change on the disk is noticed");
  await p.key("s", CONTROL);
  await pause(300);
  claim(readFileSync(file, "utf8") === theirs, "and is not replaced");
  await p.picture("conflict");
  await p.changed(() => p.value("document.querySelector('#notice button').click()"));
  claim((await p.value("document.getElementById('name').textContent")) === "Changed by an editor", "theirs is taken");

  // ended by force
  await p.value(`document.querySelector('.item[data-id="one"]').focus()`);
  await p.key("Enter");
  await p.changed(() => p.key("ArrowLeft", SHIFT));
  const had = await p.at("one");
  await s.end("SIGKILL");
  s = await serve(program, file);
  const r = await open(place, s.address);
  await r.till("document.getElementById('notice').textContent.includes('unsaved')", "what was not saved is offered");
  // going on would give it up: that is asked, and nothing is lost by leaving it open
  await r.value(`document.querySelector('.item[data-id="three"]').focus()`);
  await r.key("Enter");
  await r.key("ArrowUp");
  await r.till("document.getElementById('ask').open && document.getElementById('ask-words').textContent.includes('give that up')", "an edit asks what becomes of the offer first");
  await r.value("[...document.querySelectorAll('#ask-answers button')].at(-1).click()");
  claim((await r.value("board.state.offer !== null && board.state.undo === 0")) === true, "and was not made");
  await r.changed(() => r.value("document.querySelector('#notice button').click()"));
  claim(JSON.stringify(await r.at("one")) === JSON.stringify(had), "and taken up", await r.at("one"));

  for (const dark of [false, true]) {
    await r.value(`document.documentElement.dataset.paper = ${dark ? "'dark'" : "'light'"}`);
    await r.audited(`on ${dark ? "dark" : "light"} paper`);
  }
  await r.picture("dark");
  for (const one of [p, q]) one.events.splice(0, one.events.length, ...one.events.filter((e) => e.method !== "Log.entryAdded"));
  for (const one of [p, q, r]) one.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
