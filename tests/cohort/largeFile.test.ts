import { readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";
import { readFindings, readReadings } from "../../src/cohort/index.js";

/** What both ways of reading must agree in: everything but the raw text of unsuspicious cells. */
function comparable<Data extends { problems: readonly { value: string }[] }>(data: Data) {
  const problems = data.problems.map((problem) => ({
    ...problem,
    // a scan knows the text of suspicious cells only; of the others it prints the number
    value: Number.isNaN(Number(problem.value)) ? problem.value : String(Number(problem.value)),
  }));
  return { ...data, rawText: null, problems };
}

describe("a file scanned in chunks gives what the same file gives in memory", () => {
  test.each(["children/children", "survey/refraction_1999_2000", "survey/refraction_2005_2006"])(
    "%s",
    async (name) => {
      const file = `data/${name}.csv`;
      const columns = JSON.parse(await readFile(`data/${name.split("/")[0]}/columns.json`, "utf8"));
      for (const read of [readReadings, readFindings]) {
        const small = await read(file, { columns });
        const large = await read(file, { columns, largeFile: 0 });
        expect(large.rawText).toBeNull();
        expect(sorted(comparable(large))).toEqual(sorted(comparable(small)));
      }
    },
  );
});

/** Several rules can concern one line; their order within it does not matter. */
function sorted<Data extends { problems: readonly unknown[] }>(data: Data): Data {
  const problems = data.problems.map((problem) => JSON.stringify(problem)).sort();
  return { ...data, problems };
}
