// Opens HTML reports in a real browser, wide and narrow: no console message, no request to anywhere, no script, no serious
// or critical accessibility violation (axe-core), nothing wider than the window, no text clipped; then prints each on A4 and
// Letter for another reader.
//
//   node check.mjs FOLDER FILE.html...      pictures and prints go into FOLDER
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { page, start } from "./chromium.mjs";

const [folder, ...files] = process.argv.slice(2);
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const WIDTHS = [1300, 390];
const PAPERS = { a4: [210 / 25.4, 297 / 25.4], letter: [8.5, 11] };

// What the page says of itself: scripts, things wider than the window, texts that their own box hides.
const LOOK = `(() => {
  const clipped = [];
  for (const e of document.querySelectorAll("body *")) {
    const s = getComputedStyle(e);
    const hides = s.overflowX === "hidden" || s.overflowX === "clip" || s.textOverflow === "ellipsis";
    if (hides && e.scrollWidth > e.clientWidth + 1) clipped.push(e.tagName + " " + e.textContent.slice(0, 40));
  }
  return {
    scripts: document.scripts.length,
    wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    clipped,
    lang: document.documentElement.lang,
    headings: [...document.querySelectorAll("h1,h2,h3,h4,h5,h6")].map((h) => Number(h.tagName[1])),
    broken: [...document.querySelectorAll("a[href^='#']")].map((a) => a.hash.slice(1)).filter((h) => !document.getElementById(h)),
    twice: [...document.querySelectorAll("[id]")].map((e) => e.id).filter((id, k, all) => all.indexOf(id) !== k),
  };
})()`;

const AXE = `axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations
  .map((v) => ({ id: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)) })))`;

async function one(browser, file, width) {
  const faults = [];
  const p = await page(browser);
  for (const domain of ["Page", "Runtime", "Log", "Network"]) await p.send(`${domain}.enable`);
  await p.send("Emulation.setDeviceMetricsOverride", { width, height: 900, deviceScaleFactor: 1, mobile: false });
  const url = pathToFileURL(resolve(file)).href;
  await p.send("Page.navigate", { url });
  await p.until("Page.loadEventFired");
  // what a page asks for late is asked for by now
  await new Promise((done) => setTimeout(done, 300));
  for (const e of p.events) {
    if (e.method === "Runtime.consoleAPICalled" || e.method === "Runtime.exceptionThrown") {
      faults.push(`console: ${JSON.stringify(e.params).slice(0, 200)}`);
    } else if (e.method === "Log.entryAdded") {
      faults.push(`log: ${e.params.entry.level} ${e.params.entry.text}`);
    } else if (e.method === "Network.requestWillBeSent" && ![url, "data:,"].includes(e.params.request.url)) {
      faults.push(`asks for ${e.params.request.url}`);
    }
  }
  const asked = p.events.filter((e) => e.method === "Network.requestWillBeSent");
  if (!asked.some((e) => e.params.request.url === url)) faults.push("the request for the page itself was not seen: the log is blind");
  const look = await p.value(LOOK);
  if (look.scripts) faults.push(`${look.scripts} scripts`);
  if (look.wide > 0) faults.push(`${look.wide} px wider than a window of ${width} px`);
  if (look.lang !== "en") faults.push("no language");
  for (const [name, list] of [["clipped", look.clipped], ["broken link", look.broken], ["id given twice", look.twice]]) {
    for (const what of list.slice(0, 5)) faults.push(`${name}: ${what}`);
  }
  look.headings.reduce((before, h) => {
    if (h > before + 1) faults.push(`a heading ${h} below a heading ${before}`);
    return h;
  }, 0);
  await p.send("Page.setBypassCSP", { enabled: true });
  await p.value(axe);
  const violations = await p.value(AXE);
  for (const v of violations) {
    const line = `axe: ${v.impact} ${v.id}: ${v.help}\n    ${v.nodes.join("\n    ")}`;
    if (["serious", "critical"].includes(v.impact)) faults.push(line);
    else console.log(`  ${line}`);
  }
  const name = basename(file, ".html");
  const shot = await p.send("Page.captureScreenshot", { format: "png" });
  writeFileSync(join(folder, `${name}-${width}.png`), Buffer.from(shot.data, "base64"));
  if (width === WIDTHS[0]) {
    for (const [paper, [paperWidth, paperHeight]] of Object.entries(PAPERS)) {
      const print = await p.send("Page.printToPDF", { paperWidth, paperHeight, preferCSSPageSize: true, printBackground: false });
      writeFileSync(join(folder, `${name}-${paper}.pdf`), Buffer.from(print.data, "base64"));
    }
  }
  await p.close();
  return faults;
}

const profile = mkdtempSync(join(tmpdir(), "panelwright-browser-"));
const browser = start(process.env.CHROMIUM ?? "chromium", profile);
let passed = 0;
let failed = 0;
try {
  const { product } = await browser.send("Browser.getVersion");
  console.log(product);
  for (const file of files) {
    for (const width of WIDTHS) {
      const faults = await one(browser, file, width);
      faults.length ? failed++ : passed++;
      console.log(`${faults.length ? "FAIL" : "ok"} ${basename(file)}, ${width} px`);
      for (const f of faults) console.log(`  ${f}`);
    }
  }
} finally {
  await browser.close();
  rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
}
console.log(`browser: ${passed} passed, ${failed} failed`);
process.exitCode = failed || !passed ? 1 : 0;
