// Layouts kept side by side: through a save and an end by force, compared, gone back to, saved as files, forgotten.
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve } from "./hands.mjs";

const CARDS = `[...document.querySelectorAll('#layouts-cards .card')].map((c) => ({ name: c.dataset.name, front: !!c.querySelector('svg'), drawn: c.querySelectorAll('svg path, svg circle').length, counts: c.querySelector('.counts').textContent, differs: c.querySelector('.differs').textContent }))`;

export default async function layouts(place) {
  const { program, desk } = place;
  const file = join(desk, "ideas.json");
  const beside = join(desk, ".ideas.json.board-layouts");
  writeFileSync(file, PANEL);
  let s = await serve(program, file);
  let p = await open(place, s.address);
  const filled = (n) => p.till(`(${CARDS}).length === ${n} && (${CARDS}).every((c) => c.front)`, `${n} cards are drawn`);
  const keep = async (name) => {
    await p.value(`(() => { document.getElementById('layout-name').value = ${JSON.stringify(name)}; document.querySelector('#layouts-keep button').click(); })()`);
    await p.till(`board.layouts().length && document.getElementById('layouts-news').textContent.startsWith('Kept as')`, "it is kept");
  };
  const deed = (name, word) => p.value(`[...document.querySelectorAll('#layouts-cards [data-name=${JSON.stringify(name)}] button')].find((b) => b.textContent === ${JSON.stringify(word)}).click()`);
  const nudge = async (id, ...keys) => {
    await p.value(`document.querySelector('.item[data-id="${id}"]').focus()`);
    await p.key("Enter");
    for (const [k, more] of keys) await p.changed(() => p.key(k, more));
  };

  claim(!existsSync(beside), "nothing is written beside the panel before a layout is kept");
  await p.click("what-if");
  await filled(1);
  await keep("");
  await filled(2);
  let cards = await p.value(CARDS);
  claim(cards[1].name === "Layout 1" && cards[1].differs.includes("nothing differs"), "kept without a name it is numbered", cards);
  claim(cards[0].counts === cards[1].counts && cards[0].drawn > 3 && cards[1].drawn === cards[0].drawn, "both cards show front and counts", cards);
  claim(existsSync(beside) && JSON.parse(readFileSync(beside, "utf8")).layouts[0].text === PANEL, "the whole text is on the disk");
  await p.click("layouts-close");

  // another idea: three onto two
  await nudge("three", ...Array(12).fill(["ArrowLeft", 8]));
  claim((await p.at("three"))[0] === 210, "moved", await p.at("three"));
  await p.click("what-if");
  await filled(2);
  await p.till(`(${CARDS})[1].differs.includes('moved')`, "the card says what differs now");
  await keep("three in the middle");
  await filled(3);
  // a name that is taken is refused where one sees it
  await p.value(`(() => { document.getElementById('layout-name').value = 'three in the middle'; document.querySelector('#layouts-keep button').click(); })()`);
  await p.till("document.getElementById('layouts-news').textContent.includes('already')", "a name that is taken is refused");

  // two compared
  await p.value(`(() => { document.getElementById('layout-a').value = 'Layout 1'; document.getElementById('layout-b').value = 'three in the middle'; document.getElementById('layouts-ask').click(); })()`);
  await p.till("document.querySelector('#layouts-differ table')", "the table of what differs");
  const told = await p.value("document.getElementById('layouts-differ').innerText");
  claim(told.includes("three: moved 120 mm left"), "which item moved, and how far", told);
  const rows = await p.value("[...document.querySelectorAll('#layouts-differ tbody tr')].map((r) => [...r.children].map((c) => c.innerText))");
  claim(rows.some(([who, , now]) => who.includes("two") && who.includes("three") && /fail/i.test(now) && now.includes("worse")), "what fails in one of them, with what was measured", rows);
  claim(rows.every((r) => r.length === 3), "verdict and measured of both", rows[0]);
  await p.picture("layouts");
  for (const dark of [false, true]) {
    await p.value(`document.documentElement.dataset.paper = ${dark ? "'dark'" : "'light'"}`);
    await p.audited(`on ${dark ? "dark" : "light"} paper`);
  }
  await p.picture("layouts-dark");

  // saved as files of their own, in the folder alone
  const save = async (name, to) => {
    if (await p.value(`document.querySelector('#layouts-cards [data-name=${JSON.stringify(name)}] form').hidden`)) await deed(name, "Save as a file…");
    await p.value(`(() => { document.getElementById('layouts-news').textContent = ''; const f = document.querySelector('#layouts-cards [data-name=${JSON.stringify(name)}] form'); f.querySelector('input').value = ${JSON.stringify(to)}; f.querySelector('button').click(); })()`);
    await p.till("document.getElementById('layouts-news').textContent !== ''", "the answer to a save");
    return p.value("document.getElementById('layouts-news').textContent");
  };
  const first = await save("Layout 1", "first-idea");
  claim(first.includes("first-idea.json") && readFileSync(join(desk, "first-idea.json"), "utf8") === PANEL, "saved as a file of its own", first);
  const before = readdirSync(desk).sort().join();
  for (const wrong of ["first-idea.json", "ideas.json", "../away.json", "a/b.json", ".hidden"]) {
    const why = await save("Layout 1", wrong);
    claim(/already|name of a file|without a path|name without/.test(why), `${wrong} is refused`, why);
  }
  claim(readdirSync(desk).sort().join() === before && readFileSync(file, "utf8") === PANEL, "and nothing else is written");

  // back, in one step
  await p.changed(() => deed("Layout 1", "Go back to it"));
  claim((await p.at("three"))[0] === 330 && !(await p.value("document.getElementById('layouts').open")), "back to the first", await p.at("three"));
  await p.changed(() => p.key("z", CONTROL));
  claim((await p.at("three"))[0] === 210, "one undo takes it back", await p.at("three"));

  // a save and an end by force lose none
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  claim(existsSync(beside), "a save leaves them");
  p.quiet();
  await s.end("SIGKILL");
  s = await serve(program, file);
  p = await open(place, s.address, 1280, 720);
  await p.click("what-if");
  await filled(3);
  cards = await p.value(CARDS);
  claim(cards.map((c) => c.name).join() === ",Layout 1,three in the middle", "both are there after an end by force", cards);
  await p.picture("layouts-small");
  const q = await open(place, s.address);
  await q.click("what-if");
  await q.till(`(${CARDS}).length === 3`, "a second page has them too");
  for (const name of ["Layout 1", "three in the middle"]) {
    await deed(name, "Forget");
    await p.till("document.getElementById('ask').open", "it asks before it forgets");
    await p.value("document.querySelector('#ask-answers button').click()");
    await p.till(`!board.layouts().includes(${JSON.stringify(name)})`, "forgotten");
  }
  await q.till(`(${CARDS}).length === 1`, "the second page follows");
  claim(!existsSync(beside), "when all are forgotten the file is gone");
  for (const one of [p, q]) one.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
