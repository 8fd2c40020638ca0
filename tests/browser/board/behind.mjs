// What is behind the panel: the section follows the choice, the solids are there and can be turned, the controls move as the
// server says, and the least clearance is the one that the fit check tells.
import { execFileSync } from "node:child_process";
import { cpSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { claim, open, pause, serve } from "./hands.mjs";

/** The browser draws WebGL. */
export const gl = true;

const DUNLIN = join(dirname(fileURLToPath(import.meta.url)), "../../../panels/dunlin");

/** What the command line says, whatever its exit code. */
function said(program, ...words) {
  try {
    return execFileSync(program, words, { encoding: "utf8", maxBuffer: 1 << 28 });
  } catch (e) {
    if (e.status === 1) return e.stdout;
    throw e;
  }
}

export default async function behind(place) {
  const { program, desk } = place;
  cpSync(DUNLIN, desk, { recursive: true });
  const file = join(desk, "proposed.json");
  const s = await serve(program, file);
  const p = await open(place, s.address, 1280, 720);
  const { click, choose, value, till } = p;
  const asked = (part) => p.events.filter((e) => e.method === "Network.requestWillBeSent" && e.params.request.url.includes(part)).map((e) => e.params.request.url);
  const words = (id) => value(`document.getElementById("${id}").textContent`);

  // the section
  claim((await words("cut-words")).startsWith("Choose an item") && asked("made/behind").length === 0, "nothing is asked before something is chosen");
  await choose("altimeter");
  await till("document.querySelector('#cut-words').textContent.includes('through altimeter') && document.querySelectorAll('#cut-views svg').length === 1", "the section goes through what is chosen");
  const upright = await words("cut-words");
  await click("cut-level");
  await till(`document.querySelector('#cut-words').textContent.startsWith("level at y")`, "across too");
  claim(upright.startsWith("upright at x"), "up and down first", upright);
  await click("cut-upright");
  await choose("tach");
  await till("document.querySelector('#cut-words').textContent.includes('through tach')", "it follows the choice");
  await p.picture("behind-section-1280");
  const before = await words("cut-words");
  await value("document.querySelector('.item[data-id=\"tach\"]').focus()");
  await p.changed(() => p.key("ArrowRight", 8));
  await till(`document.querySelector('#cut-words').textContent !== ${JSON.stringify(before)}`, "and an edit");
  await p.changed(() => click("undo"));
  const part = await value(`(() => { const e = [...document.querySelectorAll('#cut-views [data-subject]')].find((e) => e.dataset.subject.startsWith('tach.')); e?.dispatchEvent(new MouseEvent('click', { bubbles: true })); return e?.dataset.subject; })()`);
  claim(part && (await value("board.chosen[0]")) === "tach", "what is cut is chosen by a click on it", part);
  await click("behind");
  await till("document.querySelectorAll('#cut-views svg').length === 2", "both sections over the sheet");
  await p.picture("behind-section-large");
  await p.audited("with the sections over the sheet");
  await p.key("Escape");
  await value("document.getElementById('behind-large').getAttribute('aria-pressed') === 'true' && document.getElementById('behind-large').click()");

  // the solids
  claim(asked("three.js").length === 0 && asked("behind/solids").length === 0, "nothing of the solids is loaded before they are looked at");
  await click("face-solid");
  await till("behind.solid?.head && behind.drivers.gap", "the solids are shown");
  const told = Number(said(program, "solids", file, "--formats", "glb", "--out", join(desk, "out")).match(/(\d+) solids in/)[1]);
  const parts = await value("behind.solid.bodies.reduce((n, b) => n + b.told.parts.length, 0)");
  claim(parts === told && told === (await value("behind.solid.head.solids")), `as many solids as the command line writes, ${told}`, parts);
  /** How many of the pixels are none of the paper's. */
  const inked = () => value(`(() => {
    behind.solid.paint();
    const from = document.getElementById("solid"), to = document.createElement("canvas");
    [to.width, to.height] = [from.width, from.height];
    const c = to.getContext("2d");
    c.drawImage(from, 0, 0);
    const { data } = c.getImageData(0, 0, to.width, to.height);
    let n = 0;
    for (let k = 0; k < data.length; k += 4) if (Math.abs(data[k] - data[0]) > 40) n += 1;
    return n / (data.length / 4);
  })()`);
  const share = await inked();
  claim(share > 0.02 && share < 0.7, "lines are drawn", share);
  const high = (id) => value(`document.getElementById("${id}").clientHeight`);
  claim((await high("findings")) >= 150 && (await high("solid-view")) >= 150, "at 1280 x 720 the findings and the solids have room both", [await high("findings"), await high("solid-view")]);
  claim(await value(`[...document.querySelectorAll("#behind-pane button, #behind-pane input")].filter((e) => e.getClientRects().length).every((e) => { const r = e.getBoundingClientRect(), o = document.getElementById("behind-pane").getBoundingClientRect(); return r.left >= o.left && r.right <= o.right + 1 && r.bottom <= o.bottom + 1; })`), "and nothing of the pane hangs out of it");
  await p.picture("behind-solid-1280");
  await p.audited("with the solids");

  await click("behind-large");
  await pause(300);
  for (const view of ["seat", "side", "above", "ahead"]) {
    await click(`from-${view}`);
    claim((await inked()) > 0.01, `something is seen from ${view}`);
    await p.picture(`behind-${view}`);
  }
  await value("document.getElementById('solid').focus()");
  const eye = () => value("behind.solid.camera.position.toArray()");
  const was = [await eye(), await value("board.state.revision")];
  await p.key("ArrowLeft");
  claim(JSON.stringify(await eye()) !== JSON.stringify(was[0]) && (await value("board.state.revision")) === was[1], "keys turn it and move nothing on the sheet");
  await p.key("1");
  claim(await value("document.getElementById('from-seat').getAttribute('aria-pressed') === 'true'"), "a key goes to the view from the seat");

  // the controls
  const settled = () => till("behind.drivers.gap?.n === behind.drivers.n && !behind.drivers.asking", "the pose is told");
  const matrix = () => value(`behind.solid.bodies.find((b) => b.told.link !== null && b.told.id.includes("wheel")).face.matrix.elements`);
  await settled();
  const rest = [await matrix(), await value("behind.drivers.gap.gap")];
  const names = await value("[...document.querySelectorAll('#drivers label')].map((l) => l.textContent)");
  claim(names.join() === "fore-aft,roll", "a slider for every driver", names);
  await value(`(() => { const i = document.getElementById("driver-0"); i.value = "-100"; i.dispatchEvent(new Event("input")); })()`);
  await settled();
  const moved = [await matrix(), await value("behind.drivers.gap.gap")];
  // x and y stay; what goes 100 mm aft comes 100 mm nearer to the pilot
  claim(Math.abs(moved[0][14] - rest[0][14] - 100) < 1e-9 && moved[0][12] === rest[0][12], "fore-aft 100 mm aft moves the wheel by that", [rest, moved]);
  claim(moved[1] !== rest[1], "and the least clearance is another", [rest[1], moved[1]]);
  await click("gap-staying");
  await settled();
  const checked = JSON.parse(said(program, "check", file, "--format", "json"));
  const travels = checked.findings.filter((f) => f["in-space"]?.pose?.length && f.measured);
  // of this panel only what is there already comes near the controls: it is told apart from what is new or moved
  const least = travels.reduce((a, b) => (b.measured.lower < a.measured.lower ? b : a));
  const ids = await value("[0, 1].map((k) => behind.drivers.least(k)?.id ?? null)");
  claim(ids[0] === null && ids[1] === least.id && (await value("document.getElementById('gap-least').disabled")), "the least of all is between things that stay, and nothing new has one", [ids, least.id]);
  const gap = await value("behind.drivers.gap.gap");
  const at = await value("Object.fromEntries(behind.drivers.all.map((d, k) => [d.id, behind.drivers.at[k]]))");
  claim(least["in-space"].pose.every((d) => Math.abs(at[d.driver] - d.value) < 1e-9), "least clearance: the pose that check tells", [at, least["in-space"].pose]);
  claim(gap >= least.measured.lower - 1e-6 && gap <= least.measured.upper + 1e-6, `${gap} mm there, as check says`, [gap, least.measured, least.id]);
  const mark = await value("behind.solid.mark.points");
  const off = Math.max(...[0, 1].flatMap((k) => [0, 1, 2].map((c) => Math.abs(mark[k][c] * (c === 2 ? -1 : 1) - least["in-space"].witness[k][c]))));
  claim(off < 1e-6, "between the points that check tells", [mark, least["in-space"].witness]);
  await p.picture("behind-least");

  // findings and choices
  const deep = travels.find((f) => f.id !== least.id && f.verdict !== "pass");
  if (deep) {
    await value(`document.querySelector('#findings button[data-finding=${JSON.stringify(deep.id)}]').click()`);
    await till(`behind.drivers.shown?.id === ${JSON.stringify(deep.id)}`, "a finding that is chosen shows its place");
    await settled();
  }
  await choose("altimeter");
  await value("behind.solid.paint()");
  claim(await value("behind.solid.bodies.filter((b) => b.lines.material.uniforms.wide.value > 2).map((b) => b.told.id).join()") === "altimeter", "what is chosen is drawn heavier");
  // the choice on the sheet laid the pane back in its place
  claim(await value("document.getElementById('behind-large').getAttribute('aria-pressed') === 'false'"), "Escape lays the pane back");
  await click("behind-large");
  await settled();
  await click("from-ahead");
  const spot = await value(`(() => {
    const b = behind.solid.bodies.find((b) => b.told.id === "attitude"), s = b.face.geometry.boundingSphere;
    behind.solid.paint();
    const v = s.center.clone().project(behind.solid.camera), r = document.getElementById("solid").getBoundingClientRect();
    return [r.left + (v.x + 1) / 2 * r.width, r.top + (1 - v.y) / 2 * r.height].map(Math.round);
  })()`);
  const under = await value(`behind.solid.under(${spot})?.body.told.id`);
  await p.mouse("mouseMoved", spot[0], spot[1], { buttons: 0, button: "none" });
  await till(`document.getElementById("solid-name").textContent.startsWith(${JSON.stringify(under)})`, "the name of what is under the pointer");
  await p.mouse("mousePressed", ...spot);
  await p.mouse("mouseReleased", ...spot);
  claim(under && (await value("document.getElementById('solid-words').textContent")).includes(`heavy: ${under}`), "a click on a solid chooses it", [under, await words("solid-words")]);
  await click("paper");
  claim((await inked()) > 0.01, "on the other paper too");
  await p.picture("behind-dark");
  await click("paper");
  await click("behind-large");

  // under the hand
  await choose("tach");
  const [x, y] = await p.centre("tach");
  const n = p.events.length;
  await p.mouse("mousePressed", x, y);
  for (let k = 1; k <= 5; k++) await p.mouse("mouseMoved", x - 6 * k, y);
  await pause(600);
  const by = await value("board.held.by");
  const went = await value("behind.solid.bodies.find((b) => b.told.id === 'tach').face.matrix.elements.slice(12, 14)");
  claim(by[0] < -5 && Math.hypot(went[0] - by[0], went[1] - by[1]) < 1e-9, "what is held goes along when the hand rests", [by, went]);
  const while_held = p.events.slice(n).filter((e) => e.method === "Network.requestWillBeSent").map((e) => e.params.request.url);
  claim(while_held.length === 0, "and asks for nothing meanwhile", while_held);
  await p.changed(() => p.mouse("mouseReleased", x - 30, y));
  await till("behind.solid.head.revision === board.state.revision", "then the solids are those of the new place");
  const had = await value("behind.solid.head.meshes.filter((m) => 'had' in m).length");
  claim(had > 0.8 * (await value("behind.solid.bodies.length")), "most of them were not sent again", [had, await value("behind.solid.bodies.length")]);
  claim((await value("behind.solid.scene.children.filter((c) => c.name).length")) === 2 * (await value("behind.solid.bodies.length")), "and none is there twice");

  // fingers
  await value("behind.solid.see('seat'), behind.solid.paint()");
  const finger = (type, ...points) => p.send("Input.dispatchTouchEvent", { type, touchPoints: points.map(([tx, ty], id) => ({ x: tx, y: ty, id })) });
  const spot2 = await value(`(() => {
    const r = document.getElementById("solid").getBoundingClientRect();
    for (let k = 0.5; k < 0.9; k += 0.01) for (const j of [0.5, 0.6, 0.4]) {
      const at = [r.left + k * r.width, r.top + j * r.height].map(Math.round);
      const id = behind.solid.under(...at)?.body.told.id;
      if (id) return [...at, id];
    }
    return null;
  })()`);
  const eye0 = await eye();
  await finger("touchStart", spot2);
  await finger("touchEnd");
  await till(`!document.getElementById("solid-name").hidden && document.getElementById("solid-name").textContent.startsWith(${JSON.stringify(spot2[2])})`, "a finger's tap names what lies there");
  claim((await words("solid-words")).includes(`heavy: ${spot2[2]}`), "and chooses it", [spot2, await words("solid-words")]);
  await finger("touchStart", spot2);
  for (let k = 1; k <= 6; k++) await finger("touchMove", [spot2[0] - 8 * k, spot2[1]]);
  await finger("touchEnd");
  const turned = await eye();
  claim(Math.hypot(...turned.map((v, k) => v - eye0[k])) > 1, "one finger turns it", [eye0, turned]);
  const chosen2 = await words("solid-words");
  const [fx, fy] = spot2;
  await finger("touchStart", [fx - 20, fy], [fx + 20, fy]);
  for (let k = 1; k <= 5; k++) await finger("touchMove", [fx - 20 - 6 * k, fy], [fx + 20 + 6 * k, fy]);
  await finger("touchEnd");
  const distance = (v) => value(`Math.hypot(...${JSON.stringify(v)}.map((c, k) => c - behind.solid.orbit.target.toArray()[k]))`);
  claim((await distance(await eye())) < (await distance(turned)), "two fingers apart come nearer");
  claim((await words("solid-words")) === chosen2, "and choose nothing");
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");

  // a browser that draws no WebGL
  const again = await serve(program, file, "--port", "0");
  const q = await open({ ...place, before: "HTMLCanvasElement.prototype.getContext = () => null" }, again.address, 1280, 720);
  await q.choose("altimeter");
  await q.till("document.querySelectorAll('#cut-views svg').length === 1", "without WebGL the section is there");
  await q.click("face-solid");
  await q.till("behind.drivers.gap", "and the least clearance is told");
  claim(await q.value("!document.getElementById('solid-none').hidden && document.getElementById('solid-none').textContent.includes('WebGL')"), "and a sentence says what is missing");
  await q.picture("behind-without");
  q.quiet();
  await again.end("SIGINT");
}
