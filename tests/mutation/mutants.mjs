import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { Instrumenter } from "@stryker-mutator/instrumenter";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { uniformInt } from "pure-rand/distribution/uniformInt";

/** The rooms that are sampled, in the order of the data's way. */
export const rooms = [
  "rows",
  "refraction",
  "rules",
  "accuracy",
  "agreement",
  "thresholds",
  "study",
];

const silent = () => {};
const logger = {
  isDebugEnabled: () => false,
  isTraceEnabled: () => false,
  ...Object.fromEntries(
    ["trace", "debug", "info", "warn", "error", "fatal"].map((level) => [level, silent]),
  ),
};
const options = { plugins: null, excludedMutations: [], ignorers: [], noHeader: true };

/**
 * What names one mutant: its place, lines and columns from 1, its mutator and what it writes there.
 *
 * @param first what the mutant's own lines and columns start from: 0 by the instrumenter, 1 in results
 */
export function keyOf({ fileName, location: { start, end }, mutatorName, replacement }, first = 0) {
  const file = relative(process.cwd(), fileName);
  const [from, to] = [start, end].map(({ line, column }) => `${line + 1 - first}:${column + 1 - first}`);
  const place = `${from}-${to}`;
  return `${file}:${place} ${mutatorName} ${replacement}`;
}

/** Every mutant of a room, in the order of its files. */
export async function mutantsOf(room) {
  const files = readdirSync(join("src", room), { recursive: true })
    .filter((name) => name.endsWith(".ts"))
    .sort()
    .map((name) => join("src", room, name))
    .map((name) => ({ name, mutate: true, content: readFileSync(name, "utf8") }));
  return (await new Instrumenter(logger).instrument(files, options)).mutants;
}

/** The sources of these mutants alone, with each switched by its number, and the numbers by key. */
export async function instrumented(mutants) {
  const names = [...new Set(mutants.map(({ fileName }) => fileName))];
  const files = names.map((name) => ({
    name,
    content: readFileSync(name, "utf8"),
    mutate: mutants.filter(({ fileName }) => fileName === name).map(({ location }) => location),
  }));
  const result = await new Instrumenter(logger).instrument(files, { ...options, noHeader: false });
  return {
    texts: Object.fromEntries(result.files.map(({ name, content }) => [name, content])),
    idOf: new Map(result.mutants.map((mutant) => [keyOf(mutant), mutant.id])),
  };
}

/**
 * The mutants in a seeded random order, so that the first n of a room are a simple random sample of it,
 * whatever n is (Durstenfeld 1964, Communications of the ACM 7:420).
 */
export function shuffled(mutants, seed) {
  const order = [...mutants];
  const generator = xoroshiro128plus(seed);
  for (let last = order.length - 1; last > 0; last--) {
    const chosen = uniformInt(generator, 0, last);
    [order[last], order[chosen]] = [order[chosen], order[last]];
  }
  return order;
}

/** Where a mutant stands, as Stryker reads it: lines from 1, columns from 0. */
export function rangeOf({ fileName, location: { start, end } }) {
  return `${fileName}:${start.line + 1}:${start.column}-${end.line + 1}:${end.column}`;
}
