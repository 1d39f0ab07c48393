import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { defineProtocol, runStudy } from "../../dist/index.js";

// Runs the studies of a JSON file (first argument) with the release of Node.js that runs this, and writes
// their results to another (second argument).
const [, , given, found] = process.argv;
const results = [];
for (const { protocol, files } of JSON.parse(readFileSync(given, "utf8"))) {
  const folder = mkdtempSync(join(tmpdir(), "meridional-study-"));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  }
  results.push(await runStudy(defineProtocol(protocol), { folder }));
  rmSync(folder, { recursive: true });
}
writeFileSync(found, JSON.stringify(results));
