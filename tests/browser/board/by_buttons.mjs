// What the buttons do.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, open, PANEL, serve, SHIFT } from "./hands.mjs";

/** What the buttons do: turn, lock, in a row, evenly, take out, add, files, sections. */
export default async function byButtons(place) {
  const { program, desk } = place;
  const other = join(desk, "buttons.json");
  writeFileSync(other, PANEL);
  const s = await serve(program, other);
  const p = await open(place, s.address);
  const { choose, click, item } = p;

  await choose("three");
  await p.changed(() => click("turn-left"));
  claim((await item("three")).turn === 90, "turned by 90 degrees", await item("three"));
  await p.changed(() => click("lock"));
  const [x, y] = await p.centre("three");
  await p.mouse("mousePressed", x, y);
  await p.mouse("mouseMoved", x - 40, y);
  await p.mouse("mouseReleased", x - 40, y);
  claim((await item("three")).locked && (await item("three")).at[0] === 330, "what is locked stays under the hand", await item("three"));
  await p.changed(() => click("lock"));

  await choose("one", "three");
  await p.changed(() => click("row"));
  claim((await item("three")).at[1] === 75, "in a row with the first", await item("three"));
  await choose("one", "two", "three");
  await p.changed(() => click("spread"));
  claim((await item("two")).at[0] === 195, "spread evenly", await item("two"));
  // a click on bare paper lets all go
  await choose("three");
  await p.changed(() => click("delete"));
  claim((await item("three")) === null, "taken out");

  await click("add");
  await p.value(`(() => { const l = document.getElementById('look'); l.value = 'vent 44'; })()`);
  await p.till("document.querySelectorAll('#shelf-list button').length > 0", "the shelf lists what there is");
  await p.value("document.getElementById('look').dispatchEvent(new Event('input'))");
  await p.till("[...document.querySelectorAll('#shelf-list small')].every((s) => s.textContent.includes('44'))", "and finds what is looked for");
  await p.picture("shelf");
  await p.changed(() => p.value("document.querySelector('#shelf-list button').click()"));
  const added = (await p.value("board.chosen"))[0];
  claim((await item(added))?.verdict !== "fail", `${added} is put where it fits`, await item(added));

  await click("give");
  const links = await p.value("[...document.querySelectorAll('#files-list a')].map((a) => a.href)");
  const head = (href) => p.value(`fetch("${href}").then(async (r) => [r.status, r.headers.get("content-disposition") ?? "", [...new Uint8Array(await r.arrayBuffer()).slice(0, 5)].map((c) => String.fromCharCode(c)).join("")])`);
  for (const href of links) {
    const [status, name, first] = await head(href);
    const want = { pdf: "%PDF-", dxf: "999", html: "<!doc" }[name.match(/\.(\w+)"/)?.[1]];
    claim(status === 200 && want && first.toLowerCase().startsWith(want.toLowerCase()), `${href.split("/").slice(-2).join("/")} comes as ${name}`, [status, name, first]);
  }
  claim(links.length === 5, "five files of one sheet", links);
  await p.value("[...document.querySelectorAll('#files-list a')].at(-1).click()");
  await p.till("/-report\\.html is made/.test(document.getElementById('files-news').textContent)", "a file that was asked for is said to be made");
  // an answer as the server gives it where the font lacks a letter; the browser would log a true one as an error
  await p.value("(() => { const own = fetch; window.fetch = () => Promise.resolve(new Response('the font has no such letter', { status: 422 })); document.querySelector('#files-list a').click(); window.fetch = own; })()");
  await p.till("document.getElementById('files-news').textContent === 'It could not be made: the font has no such letter'", "what cannot be made is told with its reason");
  await click("files-close");
  await choose("one");
  await click("behind");
  await p.till("document.querySelectorAll('#cut-views svg').length === 2", "two sections through it are drawn, large");
  await p.picture("sections");
  await p.key("Escape");
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
