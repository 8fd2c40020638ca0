// A browser without a window, driven over its own pipe: no other package is needed to speak with it.
import { spawn } from "node:child_process";

/// What draws WebGL without a graphics card.
export const WEBGL = ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

/// Starts the browser; `send` asks something of it, `on` is called with every event of a page. `gl`: it draws WebGL.
export function start(binary, profile, more = [], gl = false) {
  const flags = [
    "--headless=new",
    "--remote-debugging-pipe",
    // in a container, as root, with a small /dev/shm
    "--no-sandbox",
    "--disable-dev-shm-usage",
    ...(gl ? WEBGL : ["--disable-gpu"]),
    // nothing of its own over the network
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
    `--user-data-dir=${profile}`,
    ...more,
    "about:blank",
  ];
  const child = spawn(binary, flags, { stdio: ["ignore", "ignore", "ignore", "pipe", "pipe"] });
  const waiting = new Map();
  const listeners = [];
  let next = 1;
  let rest = "";
  const fail = (why) => {
    for (const w of waiting.values()) w.reject(new Error(why));
    waiting.clear();
  };
  child.on("error", (e) => fail(`${binary} cannot be started: ${e.message}`));
  child.on("exit", (code) => fail(`the browser ended with ${code}`));
  child.stdio[3].on("error", () => {});
  child.stdio[4].setEncoding("utf8");
  child.stdio[4].on("data", (some) => {
    rest += some;
    let end;
    while ((end = rest.indexOf("\0")) >= 0) {
      const message = JSON.parse(rest.slice(0, end));
      rest = rest.slice(end + 1);
      const asked = waiting.get(message.id);
      if (!asked) {
        for (const l of listeners) l(message);
      } else {
        waiting.delete(message.id);
        if (message.error) asked.reject(new Error(`${asked.method}: ${message.error.message}`));
        else asked.resolve(message.result);
      }
    }
  });
  const send = (method, params = {}, sessionId = undefined) =>
    new Promise((resolve, reject) => {
      const id = next++;
      waiting.set(id, { resolve, reject, method });
      child.stdio[3].write(JSON.stringify({ id, method, params, sessionId }) + "\0");
    });
  const close = async () => {
    const ended = new Promise((done) => child.once("exit", done));
    await send("Browser.close").catch(() => {});
    const late = setTimeout(() => child.kill("SIGKILL"), 5000);
    await ended;
    clearTimeout(late);
  };
  return { send, close, on: (f) => listeners.push(f) };
}

/// A new page: `send` speaks with it, `events` fills with what it says.
export async function page(browser) {
  const { targetId } = await browser.send("Target.createTarget", { url: "about:blank" });
  const { sessionId } = await browser.send("Target.attachToTarget", { targetId, flatten: true });
  const events = [];
  browser.on((m) => m.sessionId === sessionId && events.push(m));
  const send = (method, params) => browser.send(method, params, sessionId);
  const value = async (expression) => {
    const r = await send("Runtime.evaluate", { expression, awaitPromise: true, returnByValue: true });
    if (r.exceptionDetails) throw new Error(`${expression.slice(0, 60)}: ${r.exceptionDetails.exception?.description}`);
    return r.result.value;
  };
  const until = async (method) => {
    for (let k = 0; k < 1200 && !events.some((e) => e.method === method); k++) {
      await new Promise((done) => setTimeout(done, 50));
    }
    if (!events.some((e) => e.method === method)) throw new Error(`no ${method} within a minute`);
  };
  const close = () => browser.send("Target.closeTarget", { targetId });
  return { send, value, until, events, close };
}
