// A report read back as a reader sees it: each number of its answer stands in a table of the same report, and a name
// has one number.
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";

/** Numbers as print has them; a range is two of them. */
const numbersIn = (text: string) => text.match(/−?\d+(?:,\d{3})*(?:\.\d+)?/g) ?? [];

describe.each([
  ["children", "protocol.json"],
  ["demo", "protocol.json"],
  ["demo", "rule-protocol.json"],
])("the report of data/%s/%s", (set, name) => {
  let result: StudyResult;
  beforeAll(async () => {
    const json = JSON.parse(await readFile(`data/${set}/${name}`, "utf8"));
    const protocol = defineProtocol({ ...json, replicates: 60 });
    result = await runStudy(protocol, { folder: `data/${set}` });
  });

  describe.each(["journal", "public"] as const)("for the %s", (audience) => {
    let lines: string[];
    let answer: string[];
    let rows: { readonly table: string; readonly cells: readonly string[] }[];
    beforeAll(() => {
      const text = reportMarkdown(
        studyReport({ ...result, protocol: { ...result.protocol, audience } }),
      );
      lines = text.split("\n");
      const start = lines.indexOf("## The question and the answer");
      const end = lines.findIndex((line, at) => at > start && line.startsWith("## "));
      answer = lines.slice(start, end).filter((line) => /^\*\*(?!Table|Figure)/.test(line));
      let table = "";
      rows = lines.flatMap((line) => {
        table = /^\*\*Table \d+\. (.*)\*\*$/.exec(line)?.[1] ?? table;
        const cells = line.split("|").map((cell) => cell.trim());
        return line.startsWith("|") ? [{ table, cells: cells.slice(1, -1) }] : [];
      });
    });

    it("has each number of its answer in a table", () => {
      // titles of conditions hold numbers of their own
      const titles = result.protocol.conditions.map(({ title }) => title).join(" ");
      const shown = new Set(
        [titles, ...rows.flatMap(({ cells }) => cells)].flatMap((text) => numbersIn(text)),
      );
      expect(answer.length).toBeGreaterThan(2);
      expect(shown.size).toBeGreaterThan(50);
      for (const line of answer) {
        expect(
          numbersIn(line).filter((one) => !shown.has(one)),
          line,
        ).toEqual([]);
      }
    });

    it("has one sensitivity and one specificity of a name: in sentence, verdict and table", () => {
      const found = answer.flatMap((line) => {
        const [, title, way, sensitivity, specificity] =
          /^\*\*(.*), referral .*: (?:(corrected for who was examined), )?sensitivity (.*), specificity (.*?)(?:; area .*)?\.\*\*$/.exec(
            line,
          ) ?? [];
        return title === undefined ? [] : [{ title, way, sensitivity, specificity }];
      });
      expect(found.length).toBeGreaterThan(0);
      for (const { title, way, sensitivity, specificity } of found) {
        const table = `Accuracy${way === undefined ? "" : `, ${way}`}: ${title}`;
        for (const [measure, words] of Object.entries({
          Sensitivity: sensitivity,
          Specificity: specificity,
        })) {
          const own = rows.filter((row) => row.table === table && row.cells[0] === measure);
          const judged = rows.filter(({ cells }) => cells[0] === `${measure} (${title})`);
          // a public report leaves a rate out of the table that it does not estimate
          if (words !== "not estimated") expect(own.length, table).toBe(1);
          for (const cell of [own[0]?.cells[1], judged[0]?.cells[2]]) {
            // where there is no number the table says why
            const said = cell
              ?.replace(/^not estimated \(.*\)$/, "not estimated")
              // the letter of the note that names the interval's method
              .replace(/ \([a-z]\)$/, "");
            if (said !== undefined) expect(said, measure).toBe(words);
          }
        }
      }
    });
  });
});
