// Choosing by a band, pushing the sheet by mouse and keys, and the help that lists every key: each key it lists is pressed.
import { cpSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { CONTROL, ALT, claim, open, PANEL, serve, SHIFT } from "./hands.mjs";

export default async function choosing(place) {
  const file = join(place.desk, "choosing.json");
  writeFileSync(file, PANEL.replace('"at": [330, 70]', '"at": [330, 70], "locked": true'));
  const s = await serve(place.program, file);
  const p = await open(place, s.address, 1280, 800);
  const mm = await p.pixels();
  const chosen = () => p.value("board.chosen.join()");
  const seen = () => p.value("document.getElementById('over').getAttribute('viewBox').split(' ').map(Number)");
  const pixel = async () => 1 / (await p.value("document.getElementById('over').getScreenCTM().a"));
  const drag = async (from, to, more = {}) => {
    await p.mouse("mousePressed", ...from, more);
    for (let k = 1; k <= 5; k++) await p.mouse("mouseMoved", ...[0, 1].map((i) => from[i] + ((to[i] - from[i]) * k) / 5), more);
  };
  const drop = (at, more = {}) => p.mouse("mouseReleased", ...at, more);
  const c = {};
  for (const id of ["one", "two", "three"]) c[id] = await p.centre(id);
  const r = 34 * mm;
  const corner = (id, x, y) => [c[id][0] + x * r, c[id][1] + y * r];

  // a band
  await drag(corner("one", -1, -1), corner("two", 0, 1));
  claim((await p.value("document.querySelectorAll('#band rect').length")) === 1, "a drag on the bare sheet draws a band");
  await p.picture("band");
  await drop(corner("two", 0, 1));
  claim((await chosen()) === "one" && (await p.value("document.querySelectorAll('#band rect, [data-band]').length")) === 0, "what is wholly within is chosen, what is cut is not", await chosen());
  await drag(corner("two", -1, -1), corner("two", 1, 1), { modifiers: SHIFT });
  await drop(corner("two", 1, 1), { modifiers: SHIFT });
  claim((await chosen()) === "one,two", "with Shift to what is chosen", await chosen());
  const whole = await seen();
  await drag(corner("one", -1.2, -1.2), corner("three", 1.2, 1.2));
  await drop(corner("three", 1.2, 1.2));
  claim((await chosen()) === "one,two" && JSON.stringify(await seen()) === JSON.stringify(whole), "what is locked is not chosen along; the sheet stays where it is", await chosen());
  const bare = corner("one", -1.1, -1.1);
  await drag(bare, bare);
  await drop(bare);
  claim((await chosen()) === "", "a click on the bare sheet chooses nothing", await chosen());

  // pushed
  const px = await pixel();
  const moved = (a, b) => [0, 1].map((k) => Math.round((a[k] - b[k]) / px));
  let was = await seen();
  await drag(bare, [bare[0] + 50, bare[1] + 25], { button: "middle", buttons: 4 });
  await drop([bare[0] + 50, bare[1] + 25], { button: "middle" });
  claim(JSON.stringify(moved(was, await seen())) === "[50,25]", "the middle button pushes the sheet", moved(was, await seen()));
  was = await seen();
  await p.value(`document.querySelector('.item[data-id="two"]').focus()`);
  await p.send("Input.dispatchKeyEvent", { type: "keyDown", key: " ", code: "Space" });
  await drag(c.one, [c.one[0] - 50, c.one[1] - 25]);
  await drop([c.one[0] - 50, c.one[1] - 25]);
  await p.send("Input.dispatchKeyEvent", { type: "keyUp", key: " ", code: "Space" });
  claim(JSON.stringify(moved(was, await seen())) === "[-50,-25]" && (await chosen()) === "" && JSON.stringify(await p.at("one")) === "[60,75]", "and any drag while the space bar is held, over an item too", [moved(was, await seen()), await chosen()]);
  await p.value(`document.querySelector('.item[data-id="two"]').focus()`);
  await p.key(" ");
  claim((await chosen()) === "two", "the space bar alone chooses what has the focus", await chosen());
  was = await seen();
  await p.key("ArrowRight", CONTROL);
  await p.key("ArrowUp", CONTROL);
  claim(JSON.stringify(moved(was, await seen())) === "[-60,60]" && JSON.stringify(await p.at("two")) === "[162,75]", "Ctrl and an arrow push it whatever is chosen", moved(was, await seen()));
  await p.key("Escape");
  was = await seen();
  await p.key("ArrowLeft");
  await p.key("ArrowDown", SHIFT);
  claim(JSON.stringify(moved(was, await seen())) === "[60,-240]", "with none chosen the arrows alone, with Shift farther", moved(was, await seen()));
  await p.key("PageUp");
  claim(Math.abs((await seen())[2] - was[2] / 1.25) < 1e-6, "Page Up: closer");
  await p.key("PageDown");
  claim(Math.abs((await seen())[2] - was[2]) < 1e-6, "Page Down: farther");
  await p.key("Home");
  claim(JSON.stringify(await seen()) === JSON.stringify(whole), "Home: the whole sheet", await seen());
  await p.value("document.getElementById('push').click()");
  await drag(c.one, [c.one[0] + 50, c.one[1]]);
  await drop([c.one[0] + 50, c.one[1]]);
  claim(JSON.stringify(moved(whole, await seen())) === "[50,0]" && (await chosen()) === "", "with Push every drag does", moved(whole, await seen()));
  await p.value("document.getElementById('push').click(); document.getElementById('whole').click()");
  await p.key("a", CONTROL);
  claim((await chosen()) === "one,two", "Ctrl+A: all that is not locked", await chosen());
  await p.key("Escape");

  // the help
  await p.value(`document.getElementById('grid').focus()`);
  await p.key("?");
  claim(!(await p.value("document.getElementById('keys-help').open")), "in a field ? is a sign");
  await p.value(`document.querySelector('.item[data-id="two"]').focus()`);
  await p.key("?");
  claim(await p.value("document.getElementById('keys-help').open"), "? lists the keys");
  await p.picture("keys-help");
  await p.audited("with the list of keys open");
  for (const modifiers of [0, SHIFT]) {
    const met = new Set();
    for (let k = 0; k < 6; k++) {
      await p.key("Tab", modifiers);
      met.add(await p.value("document.activeElement.closest('dialog')?.id + ' ' + document.activeElement.id"));
    }
    claim(met.size === 2 && [...met].every((m) => m.startsWith("keys-help ")), "Tab stays within the list", [...met]);
  }
  const before = await p.value("[board.state.revision, document.getElementById('over').getAttribute('viewBox')].join()");
  await p.key("+");
  await p.key("ArrowUp");
  claim((await p.value("[board.state.revision, document.getElementById('over').getAttribute('viewBox')].join()")) === before, "nothing behind it answers a key");
  await p.key("Escape");
  claim((await p.value("document.getElementById('keys-help').open || document.activeElement.dataset.id")) === "two", "Escape closes it and gives the focus back", await p.value("document.activeElement.outerHTML.slice(0, 80)"));
  await p.value("document.getElementById('keys').focus()");
  await p.key("Enter");
  claim(await p.value("document.getElementById('keys-help').open"), "a button opens it too");
  await p.value("document.getElementById('keys-close').click()");
  claim((await p.value("document.activeElement.id")) === "keys", "closed by its button the focus is back on the other");

  // every key that it lists for the board does something that can be seen
  const rows = await p.value("[...document.querySelectorAll('#keys-list table')].slice(0, 3).flatMap((t) => [...t.rows].flatMap((r) => [...r.querySelectorAll('kbd')].map((k) => k.textContent)))");
  const NAMES = { "←": "ArrowLeft", "→": "ArrowRight", "↑": "ArrowUp", "↓": "ArrowDown", "Page Up": "PageUp", "Page Down": "PageDown" };
  const look = () => p.value(`JSON.stringify([board.state.revision, board.chosen, document.getElementById("over").getAttribute("viewBox"), document.querySelector("dialog[open]")?.id ?? "", document.activeElement.id || document.activeElement.dataset.id, document.documentElement.dataset.saved ?? ""])`);
  claim(rows.length >= 30, "many are listed", rows);
  for (const words of rows) {
    // two is chosen, one has the focus, something can be undone and redone, the view is closer than whole
    await p.value(`document.querySelectorAll("dialog[open]").forEach((d) => d.close())`);
    while ((await p.value("board.state.undo")) > 0) await p.changed(() => p.value("document.getElementById('undo').click()"));
    await p.value("document.getElementById('whole').click()");
    await drag(c.two, c.two);
    await drop(c.two);
    await p.changed(() => p.key("ArrowUp"));
    await p.changed(() => p.key("ArrowDown"));
    await p.changed(() => p.key("z", CONTROL));
    await p.value("document.getElementById('closer').click()");
    await p.value(`document.querySelector('.item[data-id="one"]').focus()`);
    const state = await look();
    const parts = words === "+" ? ["+"] : words.split("+");
    const last = parts.pop();
    const modifiers = parts.reduce((m, w) => m | { Ctrl: CONTROL, Shift: SHIFT, Alt: ALT }[w], 0);
    const shifted = modifiers & SHIFT ? last : last.toLowerCase();
    await p.key(NAMES[last] ?? (last.length === 1 ? shifted : last), modifiers);
    await p.till(`${look.toString().match(/`(.*)`/)[1]} !== ${JSON.stringify(state)}`, `${words} does something`);
  }
  p.quiet();
  await s.end("SIGINT");
  await floating(place);
}

/** What stands on a floating panel has a file of its own: it is not chosen along, and a hand that tries to move it is told. */
async function floating(place) {
  const folder = join(place.desk, "largest");
  cpSync(dirname(place.largest), folder, { recursive: true });
  const s = await serve(place.program, join(folder, basename(place.largest)));
  const p = await open(place, s.address, 1600, 1000);
  const id = await p.value("board.state.items.find((i) => i.elsewhere && !i.label && !i.held).id");
  await p.choose(id);
  claim((await p.value("board.chosen.join()")) === id && (await p.value("document.getElementById('notice').hidden")), `${id} of a floating panel can be chosen`, id);
  const [x, y] = await p.centre(id);
  await p.mouse("mousePressed", x, y);
  await p.mouse("mouseMoved", x + 30, y);
  await p.till("document.getElementById('notice').textContent.includes('floating panel')", "a hand that would move it is told why not");
  await p.mouse("mouseReleased", x + 30, y);
  claim((await p.value("board.state.undo")) === 0 && !(await p.value("document.getElementById('ask').open")), "and no coordinates are offered");
  await p.key("a", CONTROL);
  claim(await p.value("board.chosen.length > 10 && board.chosen.every((i) => !board.items.get(i).elsewhere)"), "Ctrl+A leaves out what is on a floating panel", await p.value("board.chosen"));
  const at = await p.value("board.items.get(board.chosen[0]).at[1]");
  await p.key("ArrowUp");
  await p.till("document.getElementById('ask').open || board.state.undo === 1", "all are moved, or coordinates are asked about");
  if (await p.value("document.getElementById('ask').open")) await p.changed(() => p.value("document.querySelector('#ask-answers button').click()"));
  claim(Math.abs((await p.value("board.items.get(board.chosen[0]).at[1]")) - at - 1) < 1e-5 && (await p.value("board.state.undo")) === 1, "in one step", await p.value("document.getElementById('notice').textContent"));
  p.quiet();
  await s.end("SIGINT");
}
