// An item's own numbers: said with a source, seen in the findings, refused, undone, saved as a person would, taken back.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve } from "./hands.mjs";

const BEZEL = "bezel.shape.circle";

/** The row of a number as it is shown. */
const row = (path) =>
  `(() => { const r = document.querySelector('#numbers-list tr[data-path="${path}"]'); return r && { cells: [...r.children].map((c) => c.innerText), typed: r.querySelector('input').value, own: 'own' in r.dataset }; })()`;

export default async function numbers(place) {
  const { program, desk } = place;
  const file = join(desk, "numbers.json");
  writeFileSync(file, PANEL);
  const s = await serve(program, file);
  const p = await open(place, s.address, 1280, 720);
  const list = async (id) => {
    await p.choose(id);
    await p.click("more");
    await p.click("numbers-of");
    await p.till("document.querySelectorAll('#numbers-list tbody tr').length > 5", "the numbers are listed");
  };
  const type = (id, words) => p.value(`(() => { const x = document.getElementById(${JSON.stringify(id)}); x.value = ${JSON.stringify(words)}; x.dispatchEvent(new Event('change')); })()`);
  const say = (path, words) => p.value(`(() => { document.querySelector('#numbers-list tr[data-path="${path}"] input').value = ${JSON.stringify(words)}; })()`);
  const submit = () => p.value("document.getElementById('numbers-set').requestSubmit()");
  const news = () => p.value("document.getElementById('numbers-news').textContent");
  const told = (words) => p.till(`document.getElementById('numbers-news').textContent.includes(${JSON.stringify(words)})`, words);
  const undoable = () => p.value("board.state.undo");
  const between = () => p.value("board.state.findings.filter((f) => f.subjects.includes('one') && f.subjects.includes('two') && f.verdict === 'fail').map((f) => f.rule)");

  claim((await p.value("document.getElementById('numbers-of').disabled")) === true, "nothing is chosen: there are no numbers to ask for");
  await list("one");
  const bezel = await p.value(row(BEZEL));
  claim(bezel.cells[1] === "66 mm" && bezel.typed === "" && !bezel.own && bezel.cells[3].includes("invented"), "what the definition says, and where that comes from", bezel);
  claim((await p.value(row("mass"))).cells[1] === "0.06 kg", "the mass is among them", await p.value(row("mass")));
  claim((await p.value(row("centre"))).cells[1].startsWith("0 mm, 0 mm, 14 mm"), "the centre of mass too", await p.value(row("centre")));
  claim((await p.value(row("current.continuous"))).cells[1] === "nothing", "a current that nobody says can be said", await p.value(row("current.continuous")));
  claim((await between()).length === 0, "nothing fails between one and two as they are", await between());

  // refused with what to do; what was typed stays
  await say(BEZEL, "5 1/2 in");
  await submit();
  await told("name a new one");
  await type("numbers-name", "bench");
  await submit();
  await told("who measured");
  await type("numbers-who", "A. Builder");
  await type("numbers-when", "2 April");
  await say("mass", "3 mm");
  await submit();
  await told("mass");
  claim((await p.value(row(BEZEL))).typed === "5 1/2 in" && (await undoable()) === 0, "a wrong unit changes nothing, and what was typed stays", await news());
  await p.picture("numbers-refused");

  // two numbers in one step; the bezels are too wide now: half of 139.7 mm and half of 66 mm at a pitch of 102
  await say("mass", "12 oz");
  await p.changed(submit);
  await p.till(`${row(BEZEL)}?.own`, "the number is the item's own now");
  const now = await p.value(row(BEZEL));
  claim(now.typed === "5 1/2 in" || now.typed === "5.5 in", "as it was typed", now);
  claim(now.cells[3].includes("this panel: measured: A. Builder, 2 April") && now.cells[1] === "66 mm", "with its source, beside the definition's", now);
  claim((await undoable()) === 1, "both are one step");
  claim((await between()).length > 0, "a finding follows: the bezels touch", await between());
  await p.picture("numbers-set");
  for (const dark of [false, true]) {
    await p.value(`document.documentElement.dataset.paper = ${dark ? "'dark'" : "'light'"}`);
    await p.audited(`with the numbers on ${dark ? "dark" : "light"} paper`);
  }
  claim(await p.value("(() => { const r = document.getElementById('numbers').getBoundingClientRect(), c = document.getElementById('numbers-close').getBoundingClientRect(); return r.bottom <= innerHeight && c.bottom <= r.bottom; })()"), "all of it is on a screen of 1280 x 720");

  // the same source again, with a tolerance
  await p.value("(() => { const s = document.getElementById('numbers-source'); s.value = 'bench'; s.dispatchEvent(new Event('change')); })()");
  await say("openings.main.shape.circle", "60.4 +0.1 -0");
  await p.changed(submit);
  await p.till(`${row("openings.main.shape.circle")}?.own`, "the cutout is its own too");
  await p.click("numbers-close");

  // undone and done again, step by step
  await p.changed(() => p.key("z", CONTROL));
  await p.changed(() => p.key("z", CONTROL));
  claim((await between()).length === 0 && (await p.value("board.state.undo")) === 0, "undone, nothing fails", await between());
  await p.changed(() => p.key("y", CONTROL));
  await p.changed(() => p.key("y", CONTROL));
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved");
  const entry = '"numbers": { "bezel.shape.circle": { "of": "5 1/2 in", "source": "bench" }, "mass": { "of": "12 oz", "source": "bench" }, "openings.main.shape.circle": { "of": "60.4 mm", "plus": "0.1 mm", "minus": "0 mm", "source": "bench" } }';
  const expected = PANEL.replace("[60,  75]", `[60,  75], ${entry}`).replace("\n  ]\n}", '\n  ],\n  "sources": { "bench": { "basis": "measured", "who": "A. Builder", "when": "2 April" } }\n}');
  const written = readFileSync(file, "utf8");
  const spelled = (t) => t.replace("5.5 in", "5 1/2 in");
  claim(spelled(written) === expected, "the file says it as a person would, all other text as it was", written);

  // taken back by the button and by an emptied field
  await list("one");
  await p.changed(() => p.value(`document.querySelector('#numbers-list tr[data-path="${BEZEL}"] button').click()`));
  await p.till(`!${row(BEZEL)}?.own`, "the definition's bezel again");
  claim((await between()).length === 0 && (await p.value(row(BEZEL))).typed === "", "and nothing fails again", await between());
  await say("mass", "");
  await say("openings.main.shape.circle", "");
  await p.changed(submit);
  await p.till(`!${row("mass")}?.own`, "the mass too");
  await p.click("numbers-close");
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "it is saved again");
  claim(!readFileSync(file, "utf8").includes("numbers"), "no empty entry is left behind", readFileSync(file, "utf8"));
  p.quiet();
  claim((await s.end("SIGINT")) === 0, "Ctrl-C ends it cleanly");
}
