// Mutated files by the thousand: MUTATIONS=100000 SEED=1 npx vitest run --config vitest.long.config.ts
// tests/prepare/noIdentifier.long.ts; OVER=corpus takes all layouts of the corpus in place of one that has everything.
// The counts of each run are added to mutations.json, or to the file RESULTS; what was found stands whole in
// RESULTS.found, and AGAIN=that file takes these turns alone, with the same MUTATIONS, SEED and OVER.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { fuzzLayouts } from "./mutatedLayouts.js";
import { fuzz } from "./noIdentifier.js";

const mutations = Number(process.env.MUTATIONS ?? 1000);
const seed = Number(process.env.SEED ?? 1);
const over = process.env.OVER ?? "one layout";
const results = process.env.RESULTS ?? "tests/prepare/mutations.json";

const again = process.env.AGAIN;
const turnsAgain =
  again === undefined
    ? undefined
    : new Set<number>(
        JSON.parse(readFileSync(again, "utf8")).map((one: { turn: number }) => one.turn),
      );

interface Run {
  /** "one layout", or "corpus". */
  readonly over?: string;
  readonly mutations: number;
  readonly seed: number;
  readonly acceptedShare: number;
  readonly leaks: number;
  readonly unhandled: number;
}

it(`${mutations} mutated files: no raw identifier outside the key table, and no error but one in words`, async () => {
  const { leaks, unhandled, ...counts } = await (over === "corpus" ? fuzzLayouts : fuzz)(
    mutations,
    seed,
    turnsAgain,
  );
  const run: Run = {
    over,
    ...counts,
    acceptedShare: counts.written / mutations,
    leaks: leaks.length,
    unhandled: unhandled.length,
  };
  if (turnsAgain !== undefined) {
    expect([...leaks, ...unhandled]).toEqual([]);
    expect(counts.written + counts.asked + counts.refused).toBe(turnsAgain.size);
    return;
  }
  const before: Run[] = existsSync(results) ? JSON.parse(readFileSync(results, "utf8")).runs : [];
  const runs = before.filter(
    (one) =>
      one.seed !== seed || one.mutations !== mutations || (one.over ?? "one layout") !== over,
  );
  const text = JSON.stringify({ kind: "mutation-runs", runs: [...runs, run] }, null, 2);
  writeFileSync(results, `${text}\n`);
  // whole, for a look at each
  const found = [...leaks, ...unhandled];
  if (found.length > 0) writeFileSync(`${results}.found`, JSON.stringify(found, null, 1));
  expect(found.map((one) => ("leaked" in one ? one.leaked : one.error))).toEqual([]);
  expect(counts.written).toBeGreaterThan(mutations / 4);
}, 86_400_000);
