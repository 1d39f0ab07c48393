// Mutated files by the thousand: MUTATIONS=100000 SEED=1 npx vitest run --config vitest.long.config.ts
// tests/prepare/noIdentifier.long.ts; the counts of each run are added to mutations.json.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { type FuzzCounts, fuzz } from "./noIdentifier.js";

const mutations = Number(process.env.MUTATIONS ?? 1000);
const seed = Number(process.env.SEED ?? 1);
const results = new URL("mutations.json", import.meta.url);

it(`${mutations} mutated files: no raw identifier outside the key table, and no error but one in words`, async () => {
  const counts = await fuzz(mutations, seed);
  expect(counts.written).toBeGreaterThan(mutations / 4);
  const before: FuzzCounts[] = existsSync(results) ? JSON.parse(readFileSync(results, "utf8")) : [];
  const others = before.filter((one) => one.seed !== seed || one.mutations !== mutations);
  writeFileSync(results, `${JSON.stringify([...others, counts], null, 2)}\n`);
}, 86_400_000);
