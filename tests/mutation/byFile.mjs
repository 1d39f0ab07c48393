import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createVitest } from "vitest/node";
import { instrumented, keyOf } from "./mutants.mjs";

// Mutants of a room whose test files run a study before their first test: there "the tests that cover it" are none
// or all. So the unit is the file: each test file runs once alone, and says which mutants it met; a mutant then
// meets those files, the quick first, until one fails. What is met only while the room is loaded (a constant, a
// schema) is "static", and meets every file.

const folder = resolve("out/mutation/byFile");
const environment = { active: "__STRYKER_ACTIVE_MUTANT__", limit: "MUTATION_HIT_LIMIT" };

async function vitestOf(files, options) {
  process.env.MUTATION_BY_FILE = folder;
  process.env.MUTATION_FILES = JSON.stringify(files);
  return await createVitest(
    "test",
    { config: "vitest.byFile.config.ts", watch: false, reporters: [{}], ...options },
    {},
    { stdout: undefined },
  );
}

/** What each file of tests met: the hits by mutant, and the processor seconds that it took. */
async function coverageOf(files) {
  const path = join(folder, "coverage.jsonl");
  const said = () => (existsSync(path) ? readFileSync(path, "utf8").trim().split("\n").map((line) => JSON.parse(line)) : []);
  process.env.MUTATION_COVERAGE = path;
  delete process.env[environment.active];
  const left = files.filter((file) => !said().some((one) => one.file.endsWith(file)));
  if (left.length > 0) {
    const vitest = await vitestOf(left, { isolate: true });
    const { testModules } = await vitest.runTestSpecifications(await vitest.globTestSpecifications());
    const failed = testModules.filter((one) => !one.ok()).map((one) => one.moduleId);
    await vitest.close();
    if (failed.length > 0) throw new Error(`fails without a mutant: ${failed.join(", ")}`);
  }
  delete process.env.MUTATION_COVERAGE;
  return said();
}

/**
 * What became of the mutants of one room.
 *
 * @param files the files of tests
 * @param onResult is told after each mutant
 */
export async function runByFile(mutants, files, onResult) {
  mkdirSync(folder, { recursive: true });
  const { texts, idOf } = await instrumented(mutants);
  const sources = join(folder, "sources.json");
  const text = JSON.stringify(texts);
  // what was met is known by the numbers of these very mutants
  if (!existsSync(sources) || readFileSync(sources, "utf8") !== text) rmSync(join(folder, "coverage.jsonl"), { force: true });
  writeFileSync(sources, text);
  const coverage = await coverageOf(files);
  const vitest = await vitestOf(files, { isolate: false });
  const specifications = await vitest.globTestSpecifications();
  for (const mutant of mutants) {
    const id = idOf.get(keyOf(mutant));
    const begun = coverage.filter(({ file }) => files.some((one) => file.endsWith(one)));
    const meeting = begun.filter(({ hits }) => hits[id] !== undefined);
    const isStatic = meeting.length === 0 && begun.some(({ loaded }) => loaded.includes(id));
    const wanted = (isStatic ? begun : meeting).sort((a, b) => a.seconds - b.seconds).map(({ file }) => file);
    const hits = Math.max(0, ...meeting.map((one) => one.hits[id]));
    const result = { key: keyOf(mutant), ...(isStatic && { static: true }) };
    if (wanted.length === 0) {
      onResult({ ...result, status: "NoCoverage" });
      continue;
    }
    process.env[environment.active] = id;
    process.env[environment.limit] = String(100 * hits + 100_000);
    process.env.MUTATION_ORDER = JSON.stringify(wanted);
    const began = performance.now();
    const watch = setTimeout(() => {
      onResult({ ...result, status: "Timeout" });
      console.log("a mutant ran out of time; begin again to go on");
      process.exit(3);
    }, 1_200_000);
    const chosen = specifications.filter(({ moduleId }) => wanted.includes(moduleId));
    const { testModules, unhandledErrors } = await vitest.runTestSpecifications(chosen);
    clearTimeout(watch);
    const killer = testModules.find((one) => one.state() === "failed")?.moduleId;
    const status = killer !== undefined || unhandledErrors.length > 0 ? "Killed" : "Survived";
    vitest.state.clearErrors();
    onResult({ ...result, status, files: wanted.length, seconds: Math.round((performance.now() - began) / 1000) });
  }
  await vitest.close();
}
