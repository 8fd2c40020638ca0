// Many items arranged at once from the page: told as it goes, stopped, offered, taken in one step or kept, never laid over a
// change.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve } from "./hands.mjs";

/** As the hands' panel, two of them one on the other. */
const CROWDED = PANEL.replace("[330, 70]", "[90, 75]");

export default async function arrange(place) {
  const { program, desk } = place;
  const file = join(desk, "crowded.json");
  writeFileSync(file, CROWDED);
  const s = await serve(program, file);
  const p = await open(place, s.address, 1280, 720);
  const q = await open(place, s.address);
  const strip = "document.getElementById('strip-words').textContent";
  const start = async (moves) => {
    await p.click("arrange");
    await p.value(`(() => { document.getElementById('arrange-moves').value = ${moves}; document.querySelector('#arrange-asked button').click(); })()`);
  };
  const deed = (word) => p.value(`[...document.querySelectorAll('#strip-deeds button')].find((b) => b.textContent === '${word}').click()`);

  claim((await p.at("three"))[0] === 90 && /^[1-9]\d* fail/.test(await p.value("document.getElementById('counts').textContent")), "it begins with what fails");
  await start(10000000);
  await p.till(`/^Arranging: [1-9]\\d* of 10000000 moves/.test(${strip})`, "how far it is, live");
  await q.till(`${strip}.startsWith('Arranging')`, "the other page is told too");
  await p.picture("arrange-runs");
  // only one at a time, and the hand goes on
  await q.click("arrange");
  await q.value("document.querySelector('#arrange-asked button').click()");
  await q.till("document.getElementById('arrange-news').textContent.includes('already')", "a second one at the same time is refused");
  await q.click("arrange-close");
  await p.till(`${strip}.includes('making it better')`, "a place was found");
  await deed("Stop and keep the best");
  await p.till(`${strip}.startsWith('An arrangement is offered')`, "stopped, the best so far is offered");
  await deed("Look at it");
  await p.till("document.querySelector('#offer-told svg')", "and shown");
  claim(/^0 fail/.test(await p.value("document.querySelector('#offer-told .counts').textContent")), "nothing fails in it", await p.value("document.getElementById('offer-told').innerText"));
  await p.picture("arrange-offer");
  for (const dark of [false, true]) {
    await p.value(`document.documentElement.dataset.paper = ${dark ? "'dark'" : "'light'"}`);
    await p.audited(`on ${dark ? "dark" : "light"} paper`);
  }
  // the panel changes on the other page: it is not laid over that
  await q.value(`document.querySelector('.item[data-id="one"]').focus()`);
  await q.key("Enter");
  await q.changed(() => q.key("ArrowUp"));
  await p.till("board.state.items.find((i) => i.id === 'one').at[1] === 76", "the other page's change");
  await p.click("offer-take");
  await p.till("document.getElementById('offer-news').textContent.includes('changed since')", "is not laid over");
  claim((await p.at("one"))[1] === 76 && (await p.at("three"))[0] === 90, "nothing moved", await p.at("three"));
  await p.click("offer-keep");
  await q.changed(() => q.key("z", CONTROL));
  // undone, it may be taken, in one step
  await p.changed(() => p.click("offer-take"));
  claim(/^0 fail/.test(await p.value("document.getElementById('counts').textContent")), "taken, nothing fails", await p.value("document.getElementById('counts').textContent"));
  await p.till("document.getElementById('strip').hidden && !document.getElementById('offer').open", "nothing is offered any more");
  await p.changed(() => p.key("z", CONTROL));
  claim((await p.at("three"))[0] === 90, "one undo takes it back", await p.at("three"));
  await p.click("what-if");
  await p.till("board.layouts().length === 1", "what was kept is among the layouts");
  await p.click("layouts-close");
  // to its end, and left
  await start(2000);
  await p.till(`${strip}.startsWith('An arrangement is offered')`, "it comes to its end by itself");
  await deed("Leave it");
  await q.till("document.getElementById('strip').hidden", "left for all pages");
  claim((await p.at("three"))[0] === 90, "what is left moves nothing");
  for (const one of [p, q]) one.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
