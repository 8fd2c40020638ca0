// Pages of other origins try to read and to change the panel: from another port of this machine, and from a name that was pointed at
// it after the page was loaded. They are given the token, which they could not know, so that nothing but origin and host keeps them out.
import { readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { join } from "node:path";
import { page } from "../chromium.mjs";
import { claim, open, PANEL, pause, serve } from "./hands.mjs";

/** What a page can try on an address: each gives what it got hold of, `null` where it was kept out. */
const TRIES = `async (address) => {
  const late = (p) => Promise.race([p, new Promise((done) => setTimeout(() => done(null), 3000))]);
  const quiet = (run) => late(Promise.resolve().then(run).catch(() => null));
  const loaded = (tag, set) => late(new Promise((done) => {
    const e = document.createElement(tag);
    e.onload = () => done(tag);
    e.onerror = () => done(null);
    set(e);
    document.body.append(e);
  }));
  const socket = address.replace("http:", "ws:") + "socket";
  return {
    fetched: await quiet(async () => (await fetch(address)).text()),
    blindly: await quiet(async () => (await fetch(address, { mode: "no-cors" })).text()),
    made: await quiet(async () => (await fetch(address + "made/report/0")).text()),
    posted: await quiet(async () => (await fetch(address, { method: "POST", body: "{}" })).text()),
    socket: await late(new Promise((done) => {
      const s = new WebSocket(socket);
      s.onopen = () => s.send(JSON.stringify({ do: "move", ids: ["one"], by: [5, 0] }));
      s.onmessage = (m) => done(m.data.slice(0, 40));
      s.onerror = () => done(null);
    })),
    script: await quiet(() => loaded("script", (e) => { e.type = "module"; e.src = address + "board.js"; })),
    style: await quiet(() => loaded("link", (e) => { e.rel = "stylesheet"; e.href = address + "board.css"; })),
    image: await quiet(() => loaded("img", (e) => { e.src = address + "made/section/0/0"; })),
    frame: await quiet(async () => {
      const e = document.createElement("iframe");
      e.src = address;
      document.body.append(e);
      await new Promise((done) => setTimeout(done, 1500));
      return e.contentDocument?.body.textContent ?? null;
    }),
    window: await quiet(async () => {
      const w = window.open(address);
      await new Promise((done) => setTimeout(done, 1500));
      return w && !w.closed ? w.document.body.textContent : null;
    }),
  };
}`;

/** A server of somebody else's page on any port. */
async function stranger() {
  const server = createServer((_, answer) => {
    answer.setHeader("content-type", "text/html");
    answer.end("<!doctype html><title>stranger</title><body></body>");
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  return { port: server.address().port, end: () => new Promise((done) => server.close(done)) };
}

export default async function strangers(place) {
  const file = join(place.desk, "p.json");
  writeFileSync(file, PANEL);
  const s = await serve(place.program, file);
  const own = await open(place, s.address);
  const other = await stranger();
  const { port, pathname } = new URL(s.address);
  const tried = [
    ["another port", `http://127.0.0.1:${other.port}/`, s.address],
    ["another name of this machine", `http://localhost:${other.port}/`, s.address],
    // the same port under a name that is ours only by the name service
    ["a name pointed at this machine", `http://panel.test:${other.port}/`, `http://panel.test:${port}${pathname}`],
  ];
  for (const [who, from, to] of tried) {
    const p = await page(place.browser);
    await p.send("Page.enable");
    await p.send("Page.navigate", { url: from });
    await p.until("Page.loadEventFired");
    claim((await p.value("document.title")) === "stranger", `${who}: its page is there`);
    const got = await p.value(`(${TRIES})(${JSON.stringify(to)})`);
    for (const [how, what] of Object.entries(got)) {
      // what comes without being asked for by name is the refusal, or nothing at all
      claim(what === null || what === "" || /^(this is not the name|a page of another origin|the address lacks)/.test(what), `${who} is kept out: ${how}`, what);
    }
    await p.close();
  }
  // as a page of this server's own address, but under another name: rebinding shows the refusal and no board
  const p = await page(place.browser);
  await p.send("Page.enable");
  await p.send("Page.navigate", { url: `http://panel.test:${port}${pathname}` });
  await pause(1000);
  claim((await p.value("document.body.textContent")).includes("not the name of this server"), "under another name the server shows nothing", await p.value("document.body.textContent"));
  await p.close();
  claim(JSON.stringify(await own.at("one")) === "[60,75]" && (await own.value("board.state.undo")) === 0, "nothing was moved");
  claim(readFileSync(file, "utf8") === PANEL, "the file is as it was");
  await own.changed(() => own.value("document.querySelector('.item[data-id=\"one\"]').focus()").then(() => own.key("Enter")).then(() => own.key("ArrowUp")));
  claim(true, "and the own page goes on");
  await other.end();
  await s.end("SIGINT");
}
