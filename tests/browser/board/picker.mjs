// The hand in the view of the photograph: places of the picture pressed, their places typed, what the program told waited for.
import { claim } from "./hands.mjs";

/** @param {any} p a page with hands */
export function picker(p) {
  const state = () => p.value("board.photograph.state");
  /** Does something and waits for what the server then tells. */
  const told = async (run) => {
    const before = await p.value("document.documentElement.dataset.photograph ?? ''");
    await run();
    const came = await p.till(`(document.documentElement.dataset.photograph ?? "") !== ${JSON.stringify(before)}`, "the view tells the change");
    if (!came) console.log(`     it says: ${await news()}`);
  };
  const news = () => p.value("document.getElementById('ph-news').textContent");
  /** Until the words of the view hold these. */
  const says = (words, what = words) => p.till(`document.getElementById("ph-news").textContent.includes(${JSON.stringify(words)})`, what);
  const choose = async (value) => {
    await p.value(`(() => { document.getElementById("ph-pictures").value = ${JSON.stringify(value)}; document.getElementById("ph-choose").click(); })()`);
  };
  const look = (name) => choose(`choose:${name}`);
  /** A place of the picture in the window. */
  const at = ([x, y]) => p.value(`(() => { const m = document.getElementById("ph-svg").getScreenCTM(); return [${x} * m.a + m.e, ${y} * m.d + m.f]; })()`);
  /** Presses the mouse at a place of the picture; a press that something else would take is a fault of the page. */
  const press = async (q) => {
    const [x, y] = await at(q);
    const under = await p.value(`(() => { const e = document.elementFromPoint(${x}, ${y}); return e?.closest("#ph-svg") ? "" : (e?.outerHTML ?? "nothing").slice(0, 80); })()`);
    if (under) claim(false, "nothing lies over the picture", [q, under]);
    await p.mouse("mouseMoved", x, y, { buttons: 0 });
    await p.mouse("mousePressed", x, y);
    await p.mouse("mouseReleased", x, y);
  };
  const type = (id, words) => p.value(`(() => { const e = document.getElementById("${id}"); e.focus(); e.value = ${JSON.stringify(words)}; })()`);
  const known = async (words) => {
    for (const [k, id] of ["ph-x", "ph-y"].entries()) await type(id, words[k]);
    await told(() => p.key("Enter"));
  };
  const hand = (name) => p.value(`document.querySelector('[name=ph-hand][value="${name}"]').click()`);
  /** A point or hole of the list. */
  const pick = (id) => p.value(`document.querySelector('#ph-points tr[data-id="${id}"] button').click()`);
  return { state, told, news, says, choose, look, at, press, type, known, hand, pick };
}
