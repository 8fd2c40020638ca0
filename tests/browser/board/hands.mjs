// Hands for the board's tests: the program started and ended, a page with a mouse, keys and fingers, what is claimed and counted.
import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { page } from "../chromium.mjs";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Three vents on a plain sheet, one of them by a relation. */
export const PANEL = `{
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

export const CONTROL = 2, SHIFT = 8, ALT = 1;

export let faults = 0;
/** @param {unknown} fine @param {string} words @param {unknown} [more] */
export const claim = (fine, words, more = "") => {
  if (!fine) faults += 1;
  console.log(`${fine ? "ok  " : "FAIL"} ${words}${fine ? "" : " " + JSON.stringify(more)}`);
};
export const pause = (ms) => new Promise((done) => setTimeout(done, ms));

/** Starts the program and gives its address and what ends it. */
export async function serve(program, path, ...more) {
  const child = spawn(program, ["board", path, "--no-open", ...more], { stdio: ["ignore", "pipe", "pipe"] });
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

/** A page on the board with hands; `before` is run in it before anything of its own. */
export async function open({ browser, folder, before = "" }, address, wide = 1600, tall = 1000) {
  const p = await page(browser);
  for (const domain of ["Page", "Runtime", "Log", "Network"]) await p.send(`${domain}.enable`);
  await p.send("Emulation.setDeviceMetricsOverride", { width: wide, height: tall, deviceScaleFactor: 1, mobile: false });
  if (before) await p.send("Page.addScriptToEvaluateOnNewDocument", { source: before });
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
  // letters of another width come late and may move the desk under the hand
  await p.value("document.fonts.ready.then(() => true)");
  const centre = (id) =>
    p.value(`(() => { const r = document.querySelector('.item[data-id="${id}"]').getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`);
  const mouse = (type, x, y, more = {}) =>
    p.send("Input.dispatchMouseEvent", { type, x, y, button: "left", buttons: type === "mouseReleased" ? 0 : 1, clickCount: 1, ...more });
  const key = async (k, modifiers = 0) => {
    // what the browser itself does at a key it does by its number
    const windowsVirtualKeyCode = { Escape: 27 }[k];
    await p.send("Input.dispatchKeyEvent", { type: "keyDown", windowsVirtualKeyCode, key: k, code: k, modifiers, text: k.length === 1 && !modifiers ? k : k === "Enter" ? "\r" : undefined });
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
  const click = (id) => p.value(`document.getElementById("${id}").click()`);
  const item = (id) => p.value(`board.state.items.find((i) => i.id === "${id}") ?? null`);
  /** Chooses items by the mouse, the first alone, the others to it. */
  const choose = async (...ids) => {
    // what was chosen before is let go
    await key("Escape");
    for (const [k, id] of ids.entries()) {
      const [x, y] = await centre(id);
      const shift = k ? { modifiers: SHIFT } : {};
      await mouse("mousePressed", x, y, shift);
      await mouse("mouseReleased", x, y, shift);
    }
  };
  /** Nothing serious to an accessibility audit as the page stands now. */
  const audited = async (where) => {
    await p.value(axe);
    const bad = await p.value(`axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.filter((v) => ["serious", "critical"].includes(v.impact)).map((v) => ({ id: v.id, nodes: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)) })))`);
    claim(bad.length === 0, `axe-core: no serious violation ${where}`, bad);
  };
  /** Nothing was thrown, and nothing asked of another machine. */
  const quiet = () => {
    const asked = p.events.filter((e) => e.method === "Network.requestWillBeSent").map((e) => e.params.request.url);
    const away = asked.filter((u) => !/^(http:\/\/127\.0\.0\.1:|ws:\/\/127\.0\.0\.1:|data:|blob:http:\/\/127\.0\.0\.1:)/.test(u));
    claim(away.length === 0 && asked.length > 0, "no request leaves the machine", away);
    const thrown = p.events.filter((e) => e.method === "Runtime.exceptionThrown").map((e) => e.params.exceptionDetails.exception?.description);
    claim(thrown.length === 0, "nothing is thrown in the page", thrown);
    const logged = p.events.filter((e) => e.method === "Log.entryAdded" && e.params.entry.level === "error").map((e) => e.params.entry.text);
    claim(logged.length === 0, "the browser logs no error", logged);
  };
  return { ...p, till: until, click, item, choose, audited, quiet, centre, mouse, key, at, changed, list, picture, pixels };
}
