// What plans promise, by simulation. The whole study writes tests/coverage/planning/promises.json:
//   COVERAGE_STUDY=long npm run test:long -- tests/planning/coverage.long.ts
import { writeFileSync } from "node:fs";
import { expect, test } from "vitest";
import { promises } from "../coverage/planning/promises.js";
import { keeps, kept, promisesFile } from "./keptPromises.js";

if (process.env.COVERAGE_STUDY === "long") {
  test("whole study", { timeout: 1_200_000 }, () => {
    const lines = promises(20_000, 1).map((row) => `  ${JSON.stringify(row)}`);
    writeFileSync(promisesFile, `{\n "rows": [\n${lines.join(",\n")}\n ]\n}\n`);
  });
}

test("short form: the same, with fewer studies", () => {
  const rows = promises(800, 77);
  expect(rows.map(({ name, n, said }) => [name, n, said])).toEqual(
    kept.map(({ name, n, said }) => [name, n, expect.closeTo(said, 9)]),
  );
  for (const row of rows) keeps(row, 4);
});
