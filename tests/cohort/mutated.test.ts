import { writeFile } from "node:fs/promises";
import { expect, test } from "vitest";
import { readMutated } from "../coverage/cohort/mutatedInput.js";

// The long form, whose result is committed:
//   MUTATIONS=100000 npx vitest run tests/cohort/mutated.test.ts
const count = Number(process.env.MUTATIONS ?? 2000);

test(`${count} mutated inputs: a clear refusal or a table, never another exception`, async () => {
  const result = await readMutated(20261125, count);
  if (count >= 100_000) {
    const text = `${JSON.stringify(result, null, 2)}\n`;
    await writeFile("tests/coverage/cohort/mutatedInput.json", text);
  }
  expect(result.faults).toEqual([]);
  // below 30 % accepted the generator would test refusals only, above 95 % hardly any
  expect(result.accepted / result.count).toBeGreaterThan(0.3);
  expect(result.accepted / result.count).toBeLessThan(0.95);
  expect(result.withProblems).toBeGreaterThan(result.accepted / 4);
}, 600_000);
