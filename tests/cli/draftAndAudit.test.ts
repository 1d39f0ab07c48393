// The source of the two commands on invented files as a programme might have them: readings of both
// eyes in a row with decimal commas, findings one row an eye under other names.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Command } from "commander";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from "vitest";
import { commands } from "../../src/cli/commands.js";

let folder: string;
let printed: string[];
const path = (name: string) => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "meridional-cli-"));
  writeFileSync(
    path("screening.csv"),
    `ScreenNo;Language;School;AgeMonths;VisitDay;RightSph;RightCyl;RightAxis;LeftSph;LeftCyl;LeftAxis
K001;a;north;50;1;1,25;-0,50;90;1,50;0,00;
K002;b;north;61;2;----;----;----;2,25;-0,25;10
`,
  );
  writeFileSync(
    path("exam.tsv"),
    "screen_no\teye\texam_day\tsphere\tcyl\taxis\nK001\tOD\t20\t1.50\t0.25\t180\n",
  );
});
afterAll(() => rmSync(folder, { recursive: true }));
beforeEach(() => {
  printed = [];
  vi.spyOn(console, "log").mockImplementation((text) => void printed.push(String(text)));
});
afterEach(() => {
  vi.restoreAllMocks();
  process.exitCode = undefined;
});

/** What a command prints. */
async function run(...words: string[]): Promise<string> {
  const program = new Command("meridional").option("--json").exitOverride();
  for (const register of commands) register(program);
  printed = [];
  await program.parseAsync(words, { from: "user" });
  return printed.join("\n");
}

describe("draft", () => {
  it("proposes both eyes, each file's own columns and the decimal comma, in a new folder", async () => {
    const text = await run(
      "draft",
      path("screening.csv"),
      path("exam.tsv"),
      "--out",
      path("new/a"),
    );
    const mapping = JSON.parse(readFileSync(path("new/a/columns.json"), "utf8"));
    expect(mapping).toMatchObject({
      age: "months",
      text: { decimal: "," },
      columns: { subject: "ScreenNo" },
    });
    const whose = { day: "VisitDay", age: "AgeMonths", site: "School" };
    expect(mapping.readings[0].right).toEqual({
      ...{ sphere: "RightSph", cylinder: "RightCyl", axis: "RightAxis" },
      ...whose,
    });
    expect(mapping.readings[0].left).toEqual({
      ...{ sphere: "LeftSph", cylinder: "LeftCyl", axis: "LeftAxis" },
      ...whose,
    });
    expect(mapping.findings[0].columns).toEqual({
      ...{ subject: "screen_no", eye: "eye", day: "exam_day" },
      ...{ sphere: "sphere", cylinder: "cyl", axis: "axis" },
    });
    // the next commands as they can be typed
    expect(text).toMatch(/audit \S*exam\.tsv --columns \S*new\/a\/columns\.json --only findings\n/);
    expect(text).toMatch(/study \S*new\/a\/protocol\.json$/);
  });
  it("says what it wanted of a folder in place of a file", async () => {
    await expect(run("draft", folder, path("exam.tsv"))).rejects.toThrow(
      "draftStudy requires a readable file, got the folder meridional-cli-",
    );
  });
});

describe("audit", () => {
  const mapping = {
    ...{ kind: "columns", version: 1, text: { decimal: "," }, columns: { subject: "ScreenNo" } },
    readings: [
      {
        right: { sphere: "RightSph", cylinder: "RightCyl", axis: "RightAxis" },
        left: { sphere: "LeftSph", cylinder: "LeftCyl", axis: "LeftAxis" },
      },
    ],
    findings: [
      {
        columns: {
          ...{ subject: "screen_no", eye: "eye", sphere: "sphere", cylinder: "cyl", axis: "axis" },
        },
      },
    ],
  };
  const write = (name: string, json: object) => {
    writeFileSync(path(name), JSON.stringify(json));
    return path(name);
  };
  it("reads a file of findings by a mapping that serves two files", async () => {
    const columns = write("both.json", mapping);
    const text = await run("audit", path("exam.tsv"), "--columns", columns, "--only", "findings");
    expect(text).toContain("Findings: 1");
    expect(text).not.toContain("Readings");
    await expect(run("audit", path("exam.tsv"), "--columns", columns)).rejects.toThrow(
      /requires the column "ScreenNo" .*--only readings or --only findings$/,
    );
  });
  it("refuses a kind that the mapping does not have", async () => {
    const { findings, ...readingsOnly } = mapping;
    const columns = write("readings.json", readingsOnly);
    expect(findings).toHaveLength(1);
    await expect(
      run("audit", path("exam.tsv"), "--columns", columns, "--only", "findings"),
    ).rejects.toThrow("auditFile requires a mapping of findings, got one of readings alone");
  });
  it("names the decimal comma that the mapping does not declare", async () => {
    const { findings, text: _text, ...rest } = mapping;
    const columns = write("point.json", rest);
    expect(findings).toHaveLength(1);
    const text = await run("audit", path("screening.csv"), "--columns", columns);
    expect(text).toContain('"1,25" has a decimal comma');
    // where to look
    expect(text).toContain('"1,25" in line 2');
    expect(process.exitCode).toBe(1);
  });
  it("says what a study number is, where there is no mapping", async () => {
    const rows = Array.from({ length: 40 }, (_, at) => `K${1000 + at};1,0`).join("\n");
    writeFileSync(path("codes.csv"), `ScreenNo;sphere\n${rows}\n`);
    expect(await run("audit", path("codes.csv"))).toContain("name it as the subject of a mapping");
  });
});
