import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
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

  test("blanks around words, words beyond ASCII or beyond 12 bytes, empty and odd cells", async () => {
    const words = [
      "a1",
      " a1",
      "a1\t",
      "Zoë",
      "Zoë ",
      "a-word-of-more-than-12",
      "é-word-of-more-than-12",
    ];
    const spheres = [
      "1.25",
      " -0.5 ",
      "1_000",
      "",
      '""',
      "−2.00",
      "1e1",
      "0x10",
      "inf",
      "n/a",
      "99",
    ];
    const lines = Array.from({ length: 5000 }, (_, row) => {
      const subject = words[row % words.length];
      const eye = ["OD", "OS ", " OD"][row % 3];
      return `${subject},${eye},${spheres[row % spheres.length]},-0.50,${row % 181},${row}`;
    });
    const folder = await mkdtemp(join(tmpdir(), "words-"));
    const file = join(folder, "words.csv");
    await writeFile(file, ["id,eye,sphere,cylinder,axis,day", ...lines, ""].join("\n"));
    const columns = {
      kind: "columns",
      version: 1,
      columns: { subject: "id", eye: "eye", day: "day" },
      readings: [{ columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } }],
    };
    try {
      const small = await readReadings(file, { columns });
      const large = await readReadings(file, { columns, largeFile: 0 });
      expect(small.subject.labels).toEqual([
        "a1",
        "Zoë",
        "a-word-of-more-than-12",
        "é-word-of-more-than-12",
      ]);
      expect(new Set(small.problems.map(({ value }) => value))).toContain("1_000");
      expect(sorted(comparable(large))).toEqual(sorted(comparable(small)));
    } finally {
      await rm(folder, { recursive: true });
    }
  });
});

/** Several rules can concern one line; their order within it does not matter. */
function sorted<Data extends { problems: readonly unknown[] }>(data: Data): Data {
  const problems = data.problems.map((problem) => JSON.stringify(problem)).sort();
  return { ...data, problems };
}
