// One key of a protocol: what a style changes is the signs within numbers, and sizes. The drawn forms of the report are
// in journalStyle.slow.ts.
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { type Report, runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { toCsv } from "../../src/tables/index.js";
import { blocksOf } from "../builders/documents.js";

const json = JSON.parse(await readFile("data/children/protocol.json", "utf8"));
const comma = { decimal: "comma", columnMm: [90, 190] } as const;
const undone = (text: string) =>
  text.replace(/(?<=\d),(?=\d)/g, ".").replace(/(?<=\d)\u2009(?=\d)/g, ",");

let result: StudyResult;
let plain: Report;
let styled: Report;
beforeAll(async () => {
  const protocol = defineProtocol({ ...json, replicates: 60 });
  result = await runStudy(protocol, { folder: "data/children" });
  plain = studyReport(result);
  styled = studyReport({
    ...result,
    protocol: { ...protocol, journalStyle: { ...comma, columnMm: [90, 190] } },
  });
});

describe("a decimal comma", () => {
  it("stands in each number of the Markdown report, and nothing else differs", () => {
    const text = reportMarkdown(styled);
    expect(text).toContain("sensitivity 95,3 % (91,6 to 97,4)");
    // versions are no numbers
    expect(text.match(/\d\.\d+/g)).toEqual(["0.1"]);
    expect(undone(text)).toBe(reportMarkdown(plain));
  });

  it("stands in no file for reuse", () => {
    expect(blocksOf(styled, "table").map(toCsv)).toEqual(blocksOf(plain, "table").map(toCsv));
  });
});

it.each([
  [{ decimal: "comma", thousands: "comma" }, /journalStyle.thousands: a decimal comma goes with/],
  [{ decimal: "dot" }, /journalStyle.decimal: /],
  [{ columnMm: [100, 120] }, /journalStyle.columnMm: the page is at least/],
  [{ columns: 2 }, /Unrecognized key: "columns"/],
])("refuses %j", (journalStyle, message) => {
  expect(() => defineProtocol({ ...json, journalStyle })).toThrow(message);
});
