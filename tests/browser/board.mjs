// The board in a real browser: somebody lays a panel out by mouse and by keys, a second page looks on, the file changes on the
// disk, the program is ended by force. Prints the latency that was measured; no test is timed.
//
//   node board.mjs PROGRAM FOLDER PANEL.json      pictures go into FOLDER
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { page, start } from "./chromium.mjs";

const [program, folder, largest] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const desk = mkdtempSync(join(tmpdir(), "board-"));
const file = join(desk, "p.json");
const PANEL = `{
  "format": 1, "panel": "Board in a browser", "unit": "mm",
  "note": "spaces   and order stay",
  "sheet": { "material": "6061-T6", "thickness": 2, "new": true, "outline": "M 0 0 H 400 V 150 H 0 Z" },
  "place": [
    { "id": "one", "instrument": "vent/60mm", "at": [60,  75] },
    { "id": "two", "instrument": "vent/60mm", "right-of": "one", "pitch": 102 },
    { "id": "three", "instrument": "vent/60mm", "at": [330, 70] }
  ]
}
`;
writeFileSync(file, PANEL);

let faults = 0;
const claim = (fine, words, more = "") => {
  if (!fine) faults += 1;
  console.log(`${fine ? "ok  " : "FAIL"} ${words}${fine ? "" : " " + JSON.stringify(more)}`);
};
const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** Starts the program and gives its address and what ends it. */
async function serve(path) {
  const child = spawn(program, ["board", path, "--no-open"], { stdio: ["ignore", "pipe", "pipe"] });
  let said = "";
  child.stderr.on("data", (d) => (said += d));
  const address = await new Promise((done, fail) => {
    let out = "";
    child.stdout.on("data", (d) => {
      out += d;
      if (out.includes("\n")) done(out.trim());
    });
    child.on("exit", () => fail(new Error(`the program ended: ${said}`)));
  });
  const end = (signal) =>
    new Promise((done) => {
      child.removeAllListeners("exit");
      child.on("exit", (code) => done(code));
      child.kill(signal);
    });
  return { address, end };
}

/** A page on the board with hands. */
async function open(browser, address, wide = 1600, tall = 1000) {
  const p = await page(browser);
  for (const domain of ["Page", "Runtime", "Log", "Network"]) await p.send(`${domain}.enable`);
  await p.send("Emulation.setDeviceMetricsOverride", { width: wide, height: tall, deviceScaleFactor: 1, mobile: false });
  await p.send("Page.navigate", { url: address });
  const until = async (expression, what = expression) => {
    for (let k = 0; k < 600; k++) {
      if (await p.value(`!!(${expression})`).catch(() => false)) return true;
      await pause(50);
    }
    claim(false, `within 30 s: ${what}`, await p.value("document.getElementById('notice').textContent"));
    return false;
  };
  await until("window.board?.state", "the panel is shown");
  const centre = (id) =>
    p.value(`(() => { const r = document.querySelector('.item[data-id="${id}"]').getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`);
  const mouse = (type, x, y, more = {}) =>
    p.send("Input.dispatchMouseEvent", { type, x, y, button: "left", buttons: type === "mouseReleased" ? 0 : 1, clickCount: 1, ...more });
  const key = async (k, modifiers = 0) => {
    await p.send("Input.dispatchKeyEvent", { type: "keyDown", key: k, code: k, modifiers, text: k.length === 1 && !modifiers ? k : k === "Enter" ? "\r" : undefined });
    await p.send("Input.dispatchKeyEvent", { type: "keyUp", key: k, code: k, modifiers });
  };
  const at = (id) => p.value(`board.state.items.find((i) => i.id === "${id}")?.at`);
  const revision = () => p.value("board.state.revision");
  const changed = async (run) => {
    const before = await revision();
    await run();
    await until(`board.state.revision > ${before}`, "the change is told");
  };
  const list = () => p.value(`[...document.querySelectorAll('#findings button')].map((b) => b.innerText)`);
  const picture = async (name) => {
    // a page behind another one is not painted, and its picture would never come
    await p.send("Page.bringToFront");
    const { data } = await p.send("Page.captureScreenshot", { format: "png" });
    writeFileSync(join(folder, `board-${name}.png`), Buffer.from(data, "base64"));
  };
  /** Pixels of a mm of the panel. */
  const pixels = () => p.value(`board.state.view.scale * document.getElementById('over').getScreenCTM().a`);
  return { ...p, till: until, centre, mouse, key, at, changed, list, picture, pixels };
}

const CONTROL = 2, SHIFT = 8;

async function byHand(browser) {
  let s = await serve(file);
  const p = await open(browser, s.address);
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
  for (let k = 0; k < 40; k++) {
    await p.key("Tab");
    order.push(await p.value("document.activeElement.id || document.activeElement.dataset.id || document.activeElement.tagName"));
  }
  for (const id of ["undo", "add", "one", "two", "three", "findings", "grid"]) claim(order.includes(id), `Tab comes to ${id}`, order);

  // two pages
  const q = await open(browser, s.address);
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
  s = await serve(file);
  const r = await open(browser, s.address);
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
    await r.value(axe);
    const bad = await r.value(`axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.filter((v) => ["serious", "critical"].includes(v.impact)).map((v) => ({ id: v.id, nodes: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)) })))`);
    claim(bad.length === 0, `axe-core: no serious violation on ${dark ? "dark" : "light"} paper`, bad);
  }
  await r.picture("dark");
  for (const one of [p, q, r]) {
    const asked = one.events.filter((e) => e.method === "Network.requestWillBeSent").map((e) => e.params.request.url);
    const away = asked.filter((u) => !/^(http:\/\/127\.0\.0\.1:|ws:\/\/127\.0\.0\.1:|data:,)/.test(u));
    claim(away.length === 0 && asked.length > 0, "no request leaves the machine", away);
    const thrown = one.events.filter((e) => e.method === "Runtime.exceptionThrown").map((e) => e.params.exceptionDetails.exception?.description);
    claim(thrown.length === 0, "nothing is thrown in the page", thrown);
  }
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}

/** What the buttons do: turn, lock, in a row, evenly, take out, add, files, sections. */
async function byButtons(browser) {
  const other = join(desk, "buttons.json");
  writeFileSync(other, PANEL);
  const s = await serve(other);
  const p = await open(browser, s.address);
  const choose = async (...ids) => {
    // what was chosen before is let go
    await p.key("Escape");
    for (const [k, id] of ids.entries()) {
      const [x, y] = await p.centre(id);
      const shift = k ? { modifiers: SHIFT } : {};
      await p.mouse("mousePressed", x, y, shift);
      await p.mouse("mouseReleased", x, y, shift);
    }
  };
  const click = (id) => p.value(`document.getElementById("${id}").click()`);
  const item = (id) => p.value(`board.state.items.find((i) => i.id === "${id}") ?? null`);

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
  await click("files-close");
  await choose("one");
  await click("behind");
  await p.till("[...document.querySelectorAll('#cut-pages img')].length === 2 && [...document.querySelectorAll('#cut-pages img')].every((i) => i.naturalWidth > 100)", "two sections through it are drawn");
  await p.picture("sections");
  await click("cut-close");
  const thrown = p.events.filter((e) => e.method === "Runtime.exceptionThrown").map((e) => e.params.exceptionDetails.exception?.description);
  claim(thrown.length === 0, "nothing is thrown in the page", thrown);
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}

/** Drags on the largest panel and tells how long the findings took. */
async function measured(browser) {
  // with the files beside it that it builds on
  cpSync(dirname(largest), join(desk, "largest"), { recursive: true });
  const copy = join(desk, "largest", basename(largest));
  const s = await serve(copy);
  const p = await open(browser, s.address);
  await p.value("document.fonts.ready.then(() => true)");
  await p.picture("largest");
  const id = await p.value("board.state.items.find((i) => !i.label && !i.held && !i.locked).id");
  const [x, y] = await p.centre(id);
  await p.mouse("mousePressed", x, y);
  await p.mouse("mouseMoved", x + 8, y);
  await pause(3000);
  await p.value(`(() => { window.frames_ = []; let last = performance.now(); const f = (t) => { window.frames_.push(t - last); last = t; requestAnimationFrame(f); }; requestAnimationFrame(f); board.waits.length = 0; })()`);
  for (let k = 0; k < 150; k++) {
    await p.mouse("mouseMoved", x + 60 * Math.sin(k / 12), y + 30 * Math.cos(k / 9));
    await pause(16);
  }
  await p.till("!document.getElementById('counts').textContent.includes('still checking')", "when the hand rests every rule has answered");
  await p.picture("largest-held");
  const { waits, frames } = await p.value("({ waits: board.waits, frames: window.frames_.slice(2) })");
  const p95 = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length * 0.95)]?.toFixed(1);
  claim(waits.length > 5, `findings came ${waits.length} times while ${id} was dragged`);
  const placed = await p.value("board.state.items.length");
  console.log(`     ${placed} items: handler to findings p95 ${p95(waits)} ms of ${waits.length}; frames p95 ${p95(frames)} ms of ${frames.length}`);
  await p.mouse("mouseReleased", x, y);
  await s.end("SIGINT");
}

const profile = mkdtempSync(join(tmpdir(), "board-browser-"));
const browser = start(process.env.CHROMIUM, profile);
try {
  await byHand(browser);
  await byButtons(browser);
  if (largest) await measured(browser);
} catch (e) {
  claim(false, "the run came to its end", String(e.stack));
} finally {
  await browser.close();
  rmSync(profile, { recursive: true, force: true });
  rmSync(desk, { recursive: true, force: true });
}
process.exit(faults ? 1 : 0);
