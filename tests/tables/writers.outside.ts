import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { toLatex, toWord } from "../../src/tables/index.js";
import { convertDocument, runProgram } from "../builders/program.js";
import { exampleTable } from "./exampleTable.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "meridional-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("toLatex compiles, with every special sign", () => {
  const hard = { ...exampleTable, title: '\\ { } $ & # % _ ^ ~ < > | " ≥ ≤ − ± × ° ² – κ' };
  const page = `\\documentclass{article}\n\\usepackage[utf8]{inputenc}\n\\usepackage{booktabs}\n\\begin{document}\n${toLatex(hard)}\\end{document}\n`;
  writeFileSync(join(folder, "table.tex"), page);
  const parameters = ["-halt-on-error", "-interaction=batchmode", "table.tex"];
  runProgram("pdflatex", parameters, { cwd: folder });
  expect(readFileSync(join(folder, "table.pdf")).subarray(0, 5).toString()).toBe("%PDF-");
});

it("toWord opens in a word processor", async () => {
  const word = await toWord([exampleTable, { ...exampleTable, title: "Second" }]);
  writeFileSync(join(folder, "table.docx"), word);
  convertDocument(folder, "table.docx", "txt:Text (encoded):UTF8");
  const text = readFileSync(join(folder, "table.txt"), "utf8");
  expect(text).toContain('Accuracy at ≤ −3.00 D & "more"');
  expect(text).toContain("0.975 (0.966\u00a0to\u00a00.985)");
  expect(text).toContain("Second");
});
