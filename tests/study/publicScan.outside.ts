import { describe, expect, it } from "vitest";
import { documentsOf } from "../builders/documents.js";
import { runProgram } from "../builders/program.js";
import { found, studies, studyNumbers } from "./publicFindings.js";

// The PDF of a public report as another program reads it; publicScan.slow.ts scans every file.
describe.each(studies)("the public PDF of the %s study", (name, file, column) => {
  it("holds no id, no date and no prescription", async () => {
    const { pdf, report } = await documentsOf(name, { audience: "public" });
    const text = runProgram("pdftotext", ["-raw", "-", "-"], { input: pdf });
    expect(text).toContain(report.sections[0].title);
    expect(found(text, await studyNumbers(`data/${name}/${file}`, column))).toEqual([]);
  });
});
