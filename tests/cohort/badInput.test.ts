import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readReadings } from "../../src/cohort/index.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "readings-"));
});
afterAll(() => rm(folder, { recursive: true }));

const header = "subject,eye,sphere,cylinder,axis";
const row = "a,OD,-1.25,-0.50,180";
const text = `${header}\n${row}\n`;

async function file(name: string, content: string | Uint8Array): Promise<string> {
  const path = join(folder, name);
  await writeFile(path, content);
  return path;
}

/** UTF-16 of either byte order, as office programs write it. */
function utf16(content: string, order: "le" | "be", mark: boolean): Buffer {
  const bytes = Buffer.from((mark ? "\ufeff" : "") + content, "utf16le");
  return order === "le" ? bytes : bytes.swap16();
}

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye" },
  readings: [{ columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } }],
};

// Each in memory and, where the size may change the way of reading, as a scanned file.
describe.each([
  ["in memory", {}],
  ["scanned", { largeFile: 0 }],
])("a file that is no table gives one clear message, %s", (_, size) => {
  const refused = async (name: string, content: string | Uint8Array, message: RegExp) => {
    const path = await file(name, content);
    await expect(readReadings(path, { columns, ...size })).rejects.toThrow(message);
    // the message names the file, never its folder
    await readReadings(path, { columns, ...size }).catch((error) =>
      expect(error.message).not.toContain(folder),
    );
  };

  test("empty file", () => refused("empty.csv", "", /requires a file with rows, got an empty one/));
  test("blank file", () => refused("blank.csv", " \n\n", /requires .*got (an empty one|none)/));
  test("header only", () => refused("header.csv", `${header}\n`, /at least one .*row/));
  test("binary file", () =>
    refused(
      "binary.csv",
      Uint8Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256),
      /binary/,
    ));
  test("a gzip that is cut off", () =>
    refused("cut.csv.gz", gzipSync(text.repeat(5000)).subarray(0, 60), /damaged/));
  test("a workbook that is none", () =>
    refused("none.xlsx", Buffer.from("PK\u0003\u0004 and nothing more"), /XLSX/));
  test("a Parquet file that is none", () =>
    refused("none.parquet", "PAR1 and nothing more", /table/));
  test("wrong delimiter", () =>
    refused("semicolon.csv", text.replaceAll(",", "#"), /single column: is the delimiter/));
  test("a mapped column is missing", () =>
    refused("missing.csv", "subject,eye,sphere,axis\na,OD,1,2\n", /column "cylinder"/));
  test("a mapped column is doubled", () =>
    refused("doubled.csv", `${header},axis\n${row},3\n`, /one column "axis"/));
  test("every row rejected", () =>
    refused("eyes.csv", text.replace("OD", "both"), /1 that were all rejected.*eye is none/));
  test("every row ragged", () => refused("ragged.csv", `${header}\na,b\n`, /at least one/));
  test("bytes of another encoding", () =>
    refused(
      "latin.csv",
      Buffer.from(`${text}é,OD,1,-1,5\n`, "latin1"),
      /utf-8 text or a declared/,
    ));
  test("a folder, and a file that is not there", async () => {
    await expect(readReadings(folder, { columns, ...size })).rejects.toThrow(/readable file/);
    const nowhere = join(folder, "nowhere.csv");
    await expect(readReadings(nowhere, { columns, ...size })).rejects.toThrow(
      /requires a readable file, got nowhere.csv/,
    );
  });
  test("a web address is not opened", async () => {
    const read = readReadings("https://example.org/a.csv", { columns, ...size });
    await expect(read).rejects.toThrow(/web address/);
  });
  test("cancelled", async () => {
    const path = await file("cancelled.csv", text);
    const signal = AbortSignal.abort(new Error("stopped by the user"));
    await expect(readReadings(path, { columns, signal, ...size })).rejects.toThrow(/stopped/);
  });
});

describe.each([
  ["in memory", {}],
  ["scanned", { largeFile: 0 }],
])("odd files that are tables are read, %s", (_, size) => {
  const sphereOf = async (
    name: string,
    content: string | Uint8Array,
    mapping: object = columns,
  ) => {
    const readings = await readReadings(await file(name, content), { columns: mapping, ...size });
    return [...readings.sphere];
  };
  const withText = (options: object) => ({ ...columns, text: options });

  test("byte order mark", async () => {
    expect(await sphereOf("mark.csv", `\ufeff${text}`)).toEqual([-1.25]);
  });
  test.each([
    ["le", true],
    ["be", true],
    ["le", false],
    ["be", false],
  ] as const)("UTF-16 %s, with a mark: %s", async (order, mark) => {
    expect(await sphereOf("wide.csv", utf16(text, order, mark))).toEqual([-1.25]);
  });
  test("gzip", async () => {
    expect(await sphereOf("zipped.csv.gz", gzipSync(text))).toEqual([-1.25]);
  });
  test("semicolons and decimal commas", async () => {
    const content = "subject;eye;sphere;cylinder;axis\na;OD;-1,25;-0,50;180\n";
    expect(await sphereOf("comma.csv", content, withText({ decimal: "," }))).toEqual([-1.25]);
  });
  test("tabs, Windows line ends, quotes, typographic minus", async () => {
    const content = `${header.replaceAll(",", "\t")}\r\n"a"\tOD\t\u22121.25\t"-0.50"\t180\r\n`;
    expect(await sphereOf("tabs.tsv", content)).toEqual([-1.25]);
  });
  test("Latin-1, declared", async () => {
    const content = Buffer.from(text.replace("\na,", "\né,"), "latin1");
    const mapping = withText({ encoding: "latin1" });
    const readings = await readReadings(await file("latin.csv", content), {
      columns: mapping,
      ...size,
    });
    expect(readings.subject.labels).toEqual(["é"]);
  });
  test("a column named __proto__ is a column", async () => {
    const content = text.replace("sphere", "__proto__");
    const mapping = structuredClone(columns);
    mapping.readings[0].columns.sphere = "__proto__";
    expect(await sphereOf("proto.csv", content, mapping)).toEqual([-1.25]);
  });
  test("a name with characters of a pattern is that file only", async () => {
    await file("a1.csv", text.replace("-1.25", "9"));
    expect(await sphereOf("a[1]*.csv", text)).toEqual([-1.25]);
  });
  test("ragged rows are listed by line, the others are read", async () => {
    const content = `${header}\n${row}\nb,OD\nc,OS,1.00,-0.25,90\n`;
    const readings = await readReadings(await file("ragged.csv", content), { columns, ...size });
    expect([...readings.sphere]).toEqual([-1.25, 1]);
    expect([...readings.line]).toEqual([2, 4]);
    expect(readings.problems).toMatchObject([
      { rule: "ragged-row", row: 3, action: "row-rejected", file: "ragged.csv" },
    ]);
  });
  test("numbers that only a program reads as numbers are set aside", async () => {
    const cells = ["1_0", "0x1", "nan", "inf", "1e400", "1 2", "--", "n/a"];
    const content = [header, ...cells.map((cell, i) => `s${i},OD,${cell},-1,5`)].join("\n");
    const readings = await readReadings(await file("cells.csv", content), { columns, ...size });
    expect(readings.sphere.every(Number.isNaN)).toBe(true);
    expect(readings.problems.map(({ value }) => value)).toEqual(cells);
    expect(readings.problems.every(({ action }) => action === "set-aside")).toBe(true);
  });
});

describe("limits", () => {
  test("a single line of 200 MB is refused without being kept", async () => {
    const path = await file("long.csv", Buffer.alloc(200_000_000, "a,"));
    await expect(readReadings(path, { columns })).rejects.toThrow(/lines shorter than/);
  });
});
