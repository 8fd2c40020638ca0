// A whole session without a mouse: an instrument is added from the list, put by numbers, nudged, turned, locked and freed; findings are walked
// through; something is taken out and had back; it is saved. Nothing but keys is sent, and the focus is where it can be seen.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { claim, CONTROL, open, PANEL, serve, SHIFT } from "./hands.mjs";

export default async function keys(place) {
  const file = join(place.desk, "p.json");
  writeFileSync(file, PANEL);
  const s = await serve(place.program, file);
  const p = await open(place, s.address, 1280, 720);
  const here = () => p.value("(({ id, dataset, tagName, textContent }) => id || dataset.id || dataset.finding || tagName + ' ' + textContent.trim().slice(0, 30))(document.activeElement)");
  /** Goes on by Tab until the focus is on something. */
  const tab = async (want, modifiers = 0) => {
    const met = [];
    for (let k = 0; k < 80; k++) {
      await p.key("Tab", modifiers);
      met.push(await here());
      if (want(met[k])) return true;
    }
    claim(false, "Tab comes to what was looked for", met);
    return false;
  };
  const type = async (text) => {
    for (const c of text) await p.key(c);
  };
  const fill = async (text) => {
    await p.send("Input.dispatchKeyEvent", { type: "keyDown", key: "a", code: "KeyA", modifiers: CONTROL, commands: ["selectAll"] });
    await p.send("Input.dispatchKeyEvent", { type: "keyUp", key: "a", code: "KeyA", modifiers: CONTROL });
    await p.send("Input.insertText", { text });
  };

  // something new from the list
  await p.key("Insert");
  await p.till("document.activeElement.id === 'look'", "the list is open and looks for what is typed");
  await p.till("document.querySelectorAll('#shelf-list button').length > 0", "the list is filled");
  await type("vent 44");
  await p.till("[...document.querySelectorAll('#shelf-list button')].every((b) => b.textContent.includes('44'))", "what is typed is found");
  await tab((id) => id.startsWith("BUTTON") && id.includes("44"));
  await p.changed(() => p.key("Enter"));
  const added = (await p.value("board.chosen"))[0];
  claim(!!added && !(await p.value("document.querySelector('dialog[open]')")), `${added} is there, chosen, and the list is closed`);

  // put by numbers, in fractions of an inch
  await tab((id) => id === "x");
  await fill("10 1/2 in");
  await p.key("Tab");
  claim((await here()) === "y", "from across to up by Tab", await here());
  await fill("25 mm");
  await p.changed(() => p.key("Enter"));
  claim(JSON.stringify(await p.at(added)) === "[266.7,25]", "it stands where the numbers say", await p.at(added));
  await fill("far away");
  await p.key("Enter");
  await p.till("document.getElementById('notice').textContent.includes('far away')", "a word that is no length is refused by name");
  claim(JSON.stringify(await p.at(added)) === "[266.7,25]", "and moves nothing");

  // on the sheet
  await tab((id) => id === added, SHIFT);
  const ring = await p.value("getComputedStyle(document.activeElement).strokeWidth + ' ' + getComputedStyle(document.activeElement).stroke");
  claim(parseFloat(ring) >= 1.5 && !ring.includes("none"), "the focus is seen on the sheet", ring);
  await p.key("Enter");
  await p.changed(() => p.key("ArrowRight", SHIFT));
  claim(JSON.stringify(await p.at(added)) === "[276.7,25]", "ten steps by Shift and an arrow", await p.at(added));
  await tab((id) => id === "turn-left");
  await p.changed(() => p.key("Enter"));
  claim((await p.item(added)).turn === 90, "turned", await p.item(added));
  await tab((id) => id === "lock");
  await p.changed(() => p.key("Enter"));
  claim((await p.item(added)).locked, "locked");
  await p.changed(() => p.key("Enter"));
  claim(!(await p.item(added)).locked, "and free again, the focus still on the button");

  // onto a neighbour, and what is said of it
  await tab((id) => id === added, SHIFT);
  await p.key("Enter");
  for (let k = 0; k < 5; k++) await p.changed(() => p.key("ArrowUp", SHIFT));
  for (let k = 0; k < 5; k++) await p.changed(() => p.key("ArrowRight", SHIFT));
  await tab((id) => id === "findings");
  await p.key("Tab");
  const first = await p.value("document.activeElement.innerText");
  claim(/^fail/i.test(first) && first.includes(added) && first.includes("three"), "the worst finding is the first of the list", first);
  await p.key("Enter");
  claim((await p.value("document.activeElement.getAttribute('aria-current')")) === "true" && (await p.value("document.querySelectorAll('#arrows g').length")) === 1, "chosen by Enter it is shown on the sheet", await here());
  await p.picture("keys");

  // taken out, had back, saved
  await tab((id) => id === added, SHIFT);
  await p.key("Enter");
  await p.changed(() => p.key("Delete"));
  claim((await p.item(added)) === null, "taken out");
  await p.changed(() => p.key("z", CONTROL));
  claim((await p.item(added)) !== null, "had back");
  await p.changed(() => p.key("y", CONTROL));
  claim((await p.item(added)) === null, "and gone again");
  for (let k = 0; k < 40 && (await p.value("board.state.undo")) > 0; k++) await p.changed(() => p.key("z", CONTROL));
  await p.changed(() => p.key("y", CONTROL));
  await p.key("s", CONTROL);
  await p.till("board.state.changed === false", "saved");
  const text = readFileSync(file, "utf8");
  claim(text.includes(`"id": "${added}"`) && text.includes('"note": "spaces   and order stay"'), "the file has it, all else as it was", text);
  p.quiet();
  await s.end("SIGINT");
}
