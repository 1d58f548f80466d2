// Bundles tests/*.test.ts and runs them with node's own test runner: node test.mjs

import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

import { build } from "esbuild";

const HERE = path.dirname(fileURLToPath(import.meta.url));
const into = mkdtempSync(path.join(HERE, "node_modules", ".tests-")); // inside, so that packages are found
try {
  const tests = readdirSync(path.join(HERE, "tests")).filter((name) => name.endsWith(".test.ts"));
  await build({
    entryPoints: tests.map((name) => path.join(HERE, "tests", name)),
    outdir: into,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    platform: "node",
    format: "esm",
    packages: "external",
    sourcemap: "inline",
    logLevel: "warning",
  });
  const files = readdirSync(into).map((name) => path.join(into, name));
  process.exitCode = spawnSync(process.execPath, ["--enable-source-maps", "--test", ...files], { stdio: "inherit" }).status ?? 1;
} finally {
  rmSync(into, { recursive: true, force: true });
}
