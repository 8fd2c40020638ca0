// Bundles what the board uses of three.js, as the lock file pins it, and says whether the committed bundle is just that.
//
//   node vendor.mjs            fails where assets/board/vendor is not current
//   node vendor.mjs --write    writes it
import { build } from "esbuild";
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const vendor = join(here, "../../assets/board/vendor");
const { outputFiles } = await build({
  entryPoints: [join(vendor, "three.entry.js")],
  bundle: true,
  minify: true,
  format: "esm",
  target: "es2022",
  charset: "utf8",
  legalComments: "inline",
  nodePaths: [join(here, "node_modules")],
  write: false,
});
const licence = readFileSync(join(dirname(createRequire(import.meta.url).resolve("three")), "../LICENSE"));
let stale = 0;
for (const [name, bytes] of [["three.js", Buffer.from(outputFiles[0].contents)], ["LICENSE-three.txt", licence]]) {
  const path = join(vendor, name);
  if (process.argv.includes("--write")) writeFileSync(path, bytes);
  else if (!readFileSync(path).equals(bytes)) {
    console.log(`FAIL assets/board/vendor/${name} is not what the lock file gives: node tests/browser/vendor.mjs --write`);
    stale += 1;
  } else console.log(`ok   assets/board/vendor/${name} is what the lock file gives, ${bytes.length} bytes`);
}
process.exit(stale ? 1 : 0);
