// Bundles client/ into a folder: node build.mjs FOLDER
//
// src/entries/NAME.ts   a module for pages (<script type="module">); what several share is split off; NAME-HASH.js
// src/alone/NAME.ts     everything in one classic script; NAME-HASH.js, but the service worker keeps the name worker.js,
//                       because a browser knows a worker by its address
// src/styles/NAME.css   with the fonts it names beside it; NAME-HASH.css
//
// manifest.json says which file each name has become: {"log3d.js": "log3d-ABCDEFGH.js", ...}.

import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

import { build } from "esbuild";

const HERE = path.dirname(fileURLToPath(import.meta.url));
const WORKER = "worker";
/** Nothing lies beside a page that is one file: the reader of tags is in it, and it has no address. */
const ONE_FILE = { format: "iife", loader: { ".wasm": "binary" }, define: { "import.meta.url": '""' } };
const COMMON = {
  bundle: true,
  minify: true,
  metafile: true,
  legalComments: "eof", // licences of what is bundled travel with it
  target: ["es2020", "chrome90", "firefox90", "safari15"],
  loader: { ".woff2": "file", ".wasm": "file" },
  assetNames: "[name]-[hash]",
  chunkNames: "part-[hash]",
  absWorkingDir: HERE,
  logLevel: "warning",
};

function sources(folder, ending) {
  const whole = path.join(HERE, "src", folder);
  if (!existsSync(whole)) return [];
  return readdirSync(whole).filter((name) => name.endsWith(ending) && !name.endsWith(".d.ts")).sort().map((name) => `src/${folder}/${name}`);
}

/** name -> file of what one build made: entries by their own name, fonts and the like by theirs without the hash. */
function named(result, into) {
  const names = {};
  for (const [output, about] of Object.entries(result.metafile.outputs)) {
    const file = path.relative(into, path.join(HERE, output));
    const ending = path.extname(file);
    if (about.entryPoint) names[path.basename(about.entryPoint, path.extname(about.entryPoint)) + ending] = file;
    else names[file.replace(/-[A-Z0-9]{8}(?=\.\w+$)/, file.startsWith("part-") ? "$&" : "")] = file;
  }
  return names;
}

async function together(entryPoints, into, options) {
  if (!entryPoints.length) return {};
  return named(await build({ ...COMMON, entryPoints, outdir: into, entryNames: "[name]-[hash]", ...options }), into);
}

/** The worker is bundled last, because it holds the list of all the others. */
async function worker(entryPoints, into, names) {
  const version = createHash("sha256").update(JSON.stringify(names)).digest("hex").slice(0, 16);
  const define = { BUILT_FILES: JSON.stringify(Object.values(names)), BUILT_VERSION: JSON.stringify(version) };
  await together(entryPoints, into, { format: "iife", entryNames: "[name]", define });
}

async function main(into) {
  rmSync(into, { recursive: true, force: true });
  mkdirSync(into, { recursive: true });
  const alone = sources("alone", ".ts");
  const isWorker = (entry) => path.basename(entry) === `${WORKER}.ts`;
  const names = {
    ...(await together(sources("styles", ".css"), into, {})),
    ...(await together(sources("entries", ".ts"), into, { format: "esm", splitting: true })),
  };
  for (const entry of alone.filter((one) => !isWorker(one))) Object.assign(names, await together([entry], into, ONE_FILE));
  await worker(alone.filter(isWorker), into, names);
  const sorted = Object.fromEntries(Object.entries(names).sort(([a], [b]) => (a < b ? -1 : 1)));
  writeFileSync(path.join(into, "manifest.json"), JSON.stringify(sorted, null, 1) + "\n");
}

const into = process.argv[2];
if (!into) {
  console.error("node build.mjs FOLDER");
  process.exit(2);
}
await main(path.resolve(into));
