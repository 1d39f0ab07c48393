import { execFileSync } from "node:child_process";
import { resolve } from "node:path";
import { bench, describe } from "vitest";

// Goal: importing the built package takes under 0.3 s on a quiet machine. The named baseline starts
// the same program without the import. `npm run build` first.

const entry = resolve(import.meta.dirname, "../../dist/index.js");
const run = (program: string) =>
  execFileSync(process.execPath, ["--input-type=module", "-e", program]);

describe("importing the package", () => {
  bench("baseline: an empty program", () => void run(""));
  bench("the package", () => void run(`await import(${JSON.stringify(entry)});`));
});
