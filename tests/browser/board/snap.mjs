// Where an item comes to rest under the hand, and that the sheet says on what: rows and columns, middles between neighbours, the
// sheet's centre line, equal gaps, old openings, the grid. The places are worked out here from the file's own numbers.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { ALT, claim, open, serve } from "./hands.mjs";

/** A sheet of 400 by 160 that is there already, an opening in it of which nobody knows what it held; vents of 60 and of 44 mm. */
const SCENE = `{
  "format": 1, "panel": "Places to rest", "unit": "mm",
  "sheet": { "material": "6061-T6", "thickness": 2, "outline": "M 0 0 H 400 V 160 H 0 Z" },
  "old-openings": [ { "id": "clock", "shape": { "circle": 40 }, "at": [331.5, 41.25], "stays": true } ],
  "place": [
    { "id": "one", "instrument": "vent/60mm", "at": [50, 110] },
    { "id": "two", "instrument": "vent/60mm", "at": [153, 110] },
    { "id": "three", "instrument": "vent/44mm", "at": [300, 117] },
    { "id": "free", "instrument": "vent/44mm", "at": [226, 38] }
  ]
}
`;

export default async function snap(place) {
  const file = join(place.desk, "snap.json");
  writeFileSync(file, SCENE);
  const s = await serve(place.program, file);
  const p = await open(place, s.address, 1280, 800);
  const mm = await p.pixels();
  const [x, y] = await p.centre("free");
  const [x0, y0] = await p.at("free");
  const said = () => p.value(`[...document.querySelectorAll("#snaps g")].map((g) => [g.dataset.snap, g.querySelector("text")?.textContent ?? "", g.querySelectorAll("line.gap").length])`);
  /** Takes it near a place; what is drawn then, and where the fields say that it is. */
  const near = async (at, modifiers = 0) => {
    await p.mouse("mouseMoved", x + (at[0] - x0) * mm, y - (at[1] - y0) * mm, { modifiers });
    return { said: await said(), x: parseFloat(await p.value("document.getElementById('x').value")), y: parseFloat(await p.value("document.getElementById('y').value")) };
  };
  /** @param {any} got */
  const names = (got) => got.said.map((g) => g[1]).join("; ");
  const off = 0.9;
  await p.value("document.getElementById('grid').selectedIndex = 2"); // 5 mm: no place below lies on it but those of the grid
  await p.mouse("mousePressed", x, y);

  let got = await near([153 + off, 38 + off]);
  claim(names(got).includes("column of two") && got.x === 153, "it rests in the column of an item", got);
  got = await near([226 + off, 117 - off]);
  claim(names(got).includes("row of three") && got.y === 117, "in the row of one", got);
  got = await near([200 - off, 33]);
  claim(names(got).includes("centre line of the sheet") && got.x === 200, "on the centre line of the sheet", got);
  got = await near([101.5 + off, 33]);
  claim(names(got).includes("midway between one and two") && got.x === 101.5, "midway between two neighbours that stand in a row elsewhere", got);
  await p.picture("snap-middle");

  // between the bezels of two and three the room that its own bezel leaves is shared
  const [two, three, own] = await p.value(`["two", "three", "free"].map((id) => board.state.items.find((i) => i.id === id).box)`);
  const wide = own[2] - own[0];
  const want = (two[2] + three[0]) / 2;
  claim(Math.abs(want - (153 + 300) / 2) > 2 * off, "the middle of the room is not the middle of the items", want);
  got = await near([want + off, 112]);
  claim(names(got).includes("equal gaps two, three") && Math.abs(got.x - want) < 0.006, "with equal gaps to both sides", { got, want, wide });
  claim(got.said.find((g) => g[0] === "gap")?.[2] === 6, "both gaps are drawn, each with its two ends", got.said);
  await p.picture("snap-gaps");

  got = await near([331.5 + off, 41.25 - off]);
  claim(got.said.every((g) => g[0] === "old") && got.said.length === 2 && names(got).includes("middle of old opening clock"), "on the middle of an old opening, both ways at once", got);
  claim(got.x === 331.5 && got.y === 41.25, "exactly", got);
  await p.picture("snap-old");

  got = await near([258.9, 61.2]);
  claim(got.x === 260 && got.y === 60 && names(got).includes("grid 5 mm"), "elsewhere on the grid, and that is said", got);
  got = await near([331.5 + off, 41.25 - off], ALT);
  claim(got.said.length === 0 && Math.abs(got.x - 331.5 - off) < 0.3 && got.x !== 331.5, "Alt leaves it where the hand is", got);
  await near([331.5 + off, 41.25 - off]);
  await p.changed(() => p.mouse("mouseReleased", x + (331.5 + off - x0) * mm, y - (41.25 - off - y0) * mm));
  claim(JSON.stringify(await p.at("free")) === "[331.5,41.25]", "let go it stands there", await p.at("free"));

  // several: the middle of all of them comes to rest too
  await p.choose("one", "two");
  const [ox, oy] = await p.centre("one");
  await p.mouse("mousePressed", ox, oy);
  await p.mouse("mouseMoved", ox + (98.5 + off) * mm, oy);
  const both = await said();
  claim(both.some((g) => g[0] === "centre" && g[1] === "their middle: centre line of the sheet"), "the middle of both on the centre line of the sheet", both);
  await p.picture("snap-several");
  await p.changed(() => p.mouse("mouseReleased", ox + (98.5 + off) * mm, oy));
  claim((await p.at("one"))[0] === 148.5 && (await p.at("two"))[0] === 251.5, "51.5 mm to both sides of 200", [await p.at("one"), await p.at("two")]);

  // Free hand does what Alt does, where there are no keys
  await p.click("free");
  const [fx, fy] = await p.centre("free");
  await p.mouse("mousePressed", fx, fy);
  await p.mouse("mouseMoved", fx - 20.3 * mm, fy);
  claim((await said()).length === 0, "with Free hand it rests on nothing", await said());
  await p.changed(() => p.mouse("mouseReleased", fx - 20.3 * mm, fy));
  claim(Math.abs((await p.at("free"))[0] - 311.2) < 0.3, "and stands where the hand left it", await p.at("free"));
  p.quiet();
  await s.end("SIGINT");
}
