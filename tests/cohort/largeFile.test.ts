import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readFindings, readReadings } from "../../src/cohort/index.js";
import { expectEqual } from "../builders/expectEqual.js";

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
        expectEqual(sorted(comparable(large)), sorted(comparable(small)));
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
      expectEqual(sorted(comparable(large)), sorted(comparable(small)));
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

describe("a quote that is not closed takes in the lines below: refused, large or small", () => {
  const lines = (strange: (row: number) => string | undefined) =>
    Array.from({ length: 3000 }, (_, row) => strange(row) ?? `a${row},OD,-1.25,-0.5,90`);

  test.each([
    ["at the start of a row", '"a999,OD,-1.25,-0.5,90', /quotes that are closed.* line 1001 of/],
    ["closed within its cell", '"a999"x,OD,-1.25,-0.5,90', /quotes that are closed.* line 1001 of/],
    ["at its last cell", 'a999,OD,-1.25,-0.5,"90', /quotes that are closed.* line 1001 of/],
  ])("%s", async (_, row, message) => {
    await withFile(
      lines((at) => (at === 999 ? row : undefined)),
      async (file) => {
        await expect(readReadings(file)).rejects.toThrow(message);
        await expect(readReadings(file, { largeFile: 0 })).rejects.toThrow(message);
      },
    );
  });

  test("line ends of two kinds are refused in words, large or small", async () => {
    const strange = (at: number) => (at === 999 ? "a999,OD,-1.25,-0.5,90\r" : undefined);
    await withFile(lines(strange), async (file) => {
      await expect(readReadings(file)).rejects.toThrow(/all end in the same way.* line 1001 /);
      await expect(readReadings(file, { largeFile: 0 })).rejects.toThrow(/all end in the same way/);
    });
  });
});

test("strict reading names a ragged row without a column", async () => {
  const source = {
    text: "subject,eye,sphere,cylinder,axis\na,OD,1\na,OS,1,0,0\n",
    name: "short.csv",
  };
  await expect(readReadings(source, { strict: true })).rejects.toThrow(
    /rejected, got one in line 2 of short.csv: the row has another number of cells than the header/,
  );
});

async function withFile(rows: readonly string[], use: (file: string) => Promise<void>) {
  const folder = await mkdtemp(join(tmpdir(), "quotes-"));
  try {
    const file = join(folder, "quotes.csv");
    await writeFile(file, ["subject,eye,sphere,cylinder,axis", ...rows, ""].join("\n"));
    await use(file);
  } finally {
    await rm(folder, { recursive: true });
  }
}
