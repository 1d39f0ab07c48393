// The built command, on notebooks with one planted fault each; the short form beside it runs the
// commonest fault and one comparison.
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  type NotebookReport,
  notebookFiles,
  notebookReports as notebooks,
} from "../builders/notebookFiles.js";

const notebook = notebookFiles();

function fault(...sources: string[]): NotebookReport {
  const { code, reports } = notebooks("--timeout", "300", notebook("fault", ...sources));
  expect(code).toBe(1);
  expect(reports).toHaveLength(1);
  expect(reports[0]!.status).toBe("failed");
  return reports[0]!;
}

describe("meridional notebooks", () => {
  it("drops the stack and the quoted source of any other error", () => {
    expect(fault('throw new TypeError("plain")').message).toBe("TypeError: plain");
  });

  it("fails on a cell that does not compile", () => {
    const { cell, message } = fault("1", 'const text: string = "a"', "const n: number = text");
    expect(cell).toBe(3);
    expect(message).toBe("1:7 - Type 'string' is not assignable to type 'number'.");
  });

  it("runs notebooks of one folder that share a source file, and one that writes what it imports", () => {
    const uses = 'import { seven } from "./shared"';
    const first = notebook("first", uses, "console.log(seven)");
    const second = notebook("second", uses, "console.log(seven + 1)");
    const third = notebook("third", "const seven = 1", "console.log(seven)");
    const writes = notebook(
      "writes",
      'import { writeFileSync } from "node:fs"',
      'writeFileSync("late.json", "{}")',
      'import late from "./late.json"; console.log(late)',
    );
    writeFileSync(join(dirname(first), "shared.ts"), "export const seven = 7;\n");
    const { code, reports } = notebooks("--write", first, second, third, writes);
    expect(reports.map(({ status, message }) => message ?? status)).toEqual(
      Array(4).fill("written"),
    );
    expect(code).toBe(0);
    const printed = [first, second, third, writes].map(
      (path) => JSON.parse(readFileSync(path, "utf8")).cells.at(-1).outputs[0].text,
    );
    expect(printed.flat().join("")).toBe("7\n8\n1\n{}\n");
  });

  it("fails on an assertion that does not hold", () => {
    const { cell, message } = fault('import assert from "node:assert"', "assert.equal(1 + 1, 3)");
    expect(cell).toBe(2);
    expect(message).toContain("AssertionError");
  });

  it("fails on a cell that ends the process, even with code 0", () => {
    const { cell, message } = fault("1", "process.exit(0)", "3");
    expect(cell).toBe(2);
    expect(message).toBe("the process ended (exit code 0) before the notebook was complete");
  });

  it("fails on a rejection that nobody handles, also after the last cell", () => {
    const late = 'setTimeout(() => Promise.reject(new Error("late")), 200); 2';
    expect(fault("1", late)).toMatchObject({ cell: 2, message: "a rejected promise: late" });
    expect(fault('Promise.reject(new Error("at once")); 1', "2").cell).toBe(1);
  });

  it("fails on a cell that hangs, blocking or not, and on work that never ends", () => {
    const { code, reports } = notebooks(
      "--timeout",
      "4",
      notebook("blocking", "1", "while (true) {}"),
      notebook("waiting", "await new Promise(() => setInterval(() => {}, 99))"),
      notebook("working", "setInterval(() => {}, 100); 1"),
    );
    expect(code).toBe(1);
    expect(reports).toHaveLength(3);
    for (const { path, cell, message } of reports) {
      expect(message).toBe("still running after 4 s");
      expect(cell).toBe(path.includes("blocking") ? 2 : 1);
    }
  });

  it("says at most twenty lines of what an assertion compared", () => {
    const { message } = fault(
      "const long = Array.from({ length: 99 }, (_, at) => 'line ' + at).join('\\n'); throw new Error(long);",
    );
    expect(message!.split("\n")).toHaveLength(21);
    expect(message).toMatch(/line 19\n\(79 more lines\)$/);
  });

  it("goes on although a folder of packages changes meanwhile", () => {
    const { code } = notebooks(
      notebook(
        "changes",
        'import { meanInterval } from "meridional";\nimport { mkdirSync, rmSync } from "node:fs";',
        'mkdirSync("node_modules/one", { recursive: true }); await new Promise((done) => setTimeout(done, 300));',
        'rmSync("node_modules", { recursive: true }); await new Promise((done) => setTimeout(done, 300));',
        "meanInterval([1, 2, 3]).value",
      ),
    );
    expect(code).toBe(0);
  });

  it("fails on an output that names a folder of this machine", () => {
    const { cell, message } = fault("1", 'console.log(process.cwd() + "/data.csv")');
    expect(cell).toBe(2);
    expect(message).toMatch(/^an output holds a path of this machine/);
  });

  it("writes the outputs, finds them the same again, and writes the same bytes", () => {
    const path = notebook(
      "outputs",
      'import { display } from "tslab";',
      'console.log("a 0.123456789"); console.log("b"); console.error("c"); display.html("<b>d</b>"); 5',
      "await new Promise((done) => setTimeout(done, 20)); [1, 2]",
    );
    expect(notebooks("--write", path).reports[0]!.status).toBe("written");
    const written = readFileSync(path, "utf8");
    expect(notebooks("--write", path).code).toBe(0);
    expect(readFileSync(path, "utf8")).toBe(written);
    const { cells } = JSON.parse(written);
    expect(cells[1].outputs).toEqual([
      { name: "stdout", output_type: "stream", text: ["a 0.123456789\n", "b\n"] },
      { name: "stderr", output_type: "stream", text: ["c\n"] },
      { data: { "text/html": ["<b>d</b>"] }, metadata: {}, output_type: "display_data" },
      { name: "stdout", output_type: "stream", text: ["5\n"] },
    ]);
    expect(notebooks("--check", path)).toMatchObject({ code: 0, reports: [{ status: "same" }] });

    writeFileSync(path, written.replace("0.123456789", "0.123456788"));
    expect(notebooks("--check", path).code).toBe(0);
    writeFileSync(path, written.replace("0.123456789", "0.123476789"));
    expect(notebooks("--check", path)).toMatchObject({
      code: 1,
      reports: [{ differences: ["code cell 2: stdout: 0.123476789 saved, 0.123456789 now"] }],
    });
    writeFileSync(path, written.replace("<b>d</b>", "<b>e</b>"));
    expect(notebooks("--check", path).code).toBe(1);
  });
});
