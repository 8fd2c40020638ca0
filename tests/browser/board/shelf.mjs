// The shelf: drawings to one scale, sizes, what still fits as it is told, and that nothing of it holds the hand up.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, pause, serve } from "./hands.mjs";

const ROWS = `[...document.querySelectorAll('#shelf-list li')].map((r) => ({ name: r.firstElementChild.dataset.name, title: r.querySelector('strong').textContent, fit: r.querySelector('.fit').textContent, group: r.querySelector('.fit').dataset.group, small: r.querySelector('small').textContent, width: r.querySelector('svg').getBoundingClientRect().width }))`;

export default async function shelf(place) {
  const { program, desk } = place;
  const file = join(desk, "shelf.json");
  writeFileSync(file, PANEL);
  const s = await serve(program, file);
  const p = await open(place, s.address, 1280, 720);
  const { click } = p;
  const look = (words) => p.value(`(() => { const l = document.getElementById('look'); l.value = ${JSON.stringify(words)}; l.dispatchEvent(new Event('input')); })()`);

  await click("add");
  await p.till("document.querySelectorAll('#shelf-list li').length > 100", "the whole catalogue is listed");
  await p.till("[...document.querySelectorAll('#shelf-list .fit')].some((f) => f.dataset.group)", "first answers come");
  const early = await p.value("document.getElementById('shelf-told').textContent");
  claim(/^Asking the rules: \d+ of \d+ so far/.test(early), "it says how many are asked so far", early);
  await p.picture("shelf-early");

  // while it is worked out, another page moves an item at once
  const q = await open(place, s.address);
  const since = Date.now();
  await q.value(`document.querySelector('.item[data-id="three"]').focus()`);
  await q.key("Enter");
  await q.changed(() => q.key("ArrowUp"));
  console.log(`     a nudge while the shelf is asked: ${Date.now() - since} ms`);
  await p.till("board.state.revision > 1", "this page follows");
  // what was told of the panel before is asked anew, what is looked for first
  await look("vent");
  await p.till("[...document.querySelectorAll('#shelf-list .fit')].every((f) => f.dataset.group !== '')", "what is looked for is answered first");
  const rows = await p.value(ROWS);
  const groups = rows.map((r) => Number(r.group));
  claim(JSON.stringify(groups) === JSON.stringify([...groups].sort((a, b) => a - b)), "sorted by what fits", rows.map((r) => [r.group, r.title]));
  for (const g of new Set(groups)) {
    const titles = rows.filter((r) => Number(r.group) === g).map((r) => r.title);
    claim(JSON.stringify(titles) === JSON.stringify([...titles].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0))), `then by name (${titles.length} alike)`, titles);
  }
  claim(rows.some((r) => /^(fits|withheld): .*\d+(\.\d+)? mm to spare at the roomiest spot/.test(r.fit)), "to spare in the panel's unit", rows.map((r) => r.fit));
  await p.picture("shelf-vents");

  // one scale: the drawings are as wide as the definitions say
  const width = (name) => {
    const def = JSON.parse(readFileSync(join("instruments", `${name}.json`), "utf8"));
    const shape = def.bezel?.shape;
    return shape?.circle?.of ?? shape?.circle ?? shape?.rectangle?.[0];
  };
  const seen = (name) => rows.find((r) => r.name === name);
  const mm = Number(width("vent/60mm"));
  claim(mm > 0 && Math.abs(seen("vent/60mm").width - (mm + 4) * 0.6) < 1, `the bezel of ${mm} mm is drawn to the bar's scale`, seen("vent/60mm"));
  claim((await p.value("document.getElementById('shelf-bar').getBoundingClientRect().width")) === 30, "the bar of 50 mm is as long as the drawings' scale has it");
  claim(/cutout .* mm.*; depth behind/.test(seen("vent/60mm").small), "cutout and depth behind", seen("vent/60mm").small);

  // what is too large says by what
  await look("10in");
  await p.till("document.querySelectorAll('#shelf-list li').length > 0 && [...document.querySelectorAll('#shelf-list .fit')].every((f) => f.dataset.group !== '')", "large displays are answered");
  const large = await p.value(ROWS);
  claim(large.every((r) => r.group === "4" && /^does not fit: short by [\d.]+ mm/.test(r.fit)), "what does not fit says by how much and what binds", large.map((r) => r.fit));
  for (const dark of [false, true]) {
    await p.value(`document.documentElement.dataset.paper = ${dark ? "'dark'" : "'light'"}`);
    await p.audited(`on ${dark ? "dark" : "light"} paper`);
  }
  await p.picture("shelf-large-dark");
  await p.value("document.documentElement.dataset.paper = 'light'");

  // closed: nothing more comes
  await look("");
  await click("shelf-close");
  await pause(2500);
  const told = await p.value("document.getElementById('shelf-told').textContent");
  await pause(1500);
  claim((await p.value("document.getElementById('shelf-told').textContent")) === told, "closed, it is asked no more", told);

  // what is chosen stands at the spot that was told
  await click("add");
  await look("vent 44");
  await p.till("document.querySelector('#shelf-list li .fit')?.dataset.group !== ''", "it is known");
  await p.changed(() => p.value("document.querySelector('#shelf-list button').click()"));
  const added = (await p.value("board.chosen"))[0];
  const stands = await p.item(added);
  claim(stands && stands.verdict !== "fail" && stands.at[0] > 0 && stands.at[0] < 400, `${added} stands where it fits`, stands);
  await click("add");
  await look("");
  await p.till("/^\\d+ fit, /.test(document.getElementById('shelf-told').textContent)", "in the end all are told");
  await p.picture("shelf-all");
  console.log(`     ${await p.value("document.getElementById('shelf-told').textContent")}`);
  for (const one of [p, q]) one.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
