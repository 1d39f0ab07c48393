// The built command; every other fault of a notebook is planted in notebooksCommand.long.ts.
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { notebookFiles, notebookReports, notebooksCommand } from "../builders/notebookFiles.js";

const notebook = notebookFiles();

describe("meridional notebooks", () => {
  it("stops at the first cell that throws, and says which saved number is no longer so", () => {
    const planted = 'import { createRandom } from "meridional";\ncreateRandom(1.5);';
    const throws = notebook("throws", "1 + 1", planted, 'throw new Error("not reached")');
    const differs = notebook("differs", 'console.log("a 0.123456789")');
    const saved = JSON.parse(readFileSync(differs, "utf8"));
    saved.cells[0].outputs = [{ name: "stdout", output_type: "stream", text: ["a 0.123476789\n"] }];
    writeFileSync(differs, JSON.stringify(saved));
    const { code, reports } = notebookReports("--check", throws, differs);
    expect(code).toBe(1);
    const of = (path: string) => reports.find((report) => report.path === path);
    expect(of(throws)).toMatchObject({
      status: "failed",
      cell: 2,
      source: planted,
      message: "InputError: createRandom requires an integer seed and stream, got 1.5, 0",
    });
    expect(of(differs)).toMatchObject({
      status: "differs",
      differences: ["code cell 1: stdout: 0.123476789 saved, 0.123456789 now"],
    });
  });

  it("says in one line what is wrong with a call, with code 2", () => {
    const { code, stderr } = notebooksCommand("--chekc");
    expect(code).toBe(2);
    expect(stderr.split("\n")[0]).toBe("meridional: unknown option '--chekc'");
    const missing = notebooksCommand("missing.ipynb");
    expect(missing.code).toBe(1);
    expect(missing.stderr.trim().split("\n")).toHaveLength(1);
  });
});
