// The habits that every notebook of the project keeps; their outputs are checked by
// `npm run notebooks -- --check`.
import { mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { machinePath } from "../../src/notebook/machinePath.js";
import { withoutOutputs } from "../../src/notebook/notebookFile.js";
import { readNotebook, writeNotebook } from "../../src/notebook/notebookOnDisk.js";
import { caution } from "../../src/results/index.js";

const folder = resolve(import.meta.dirname, "../../notebooks");
const notebooks = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));

it("there are notebooks", () => {
  expect(notebooks).toContain("01-first-look.ipynb");
});

describe.each(notebooks)("%s", (name) => {
  const { cells } = readNotebook(join(folder, name));
  const code = cells.filter(({ kind }) => kind === "code");
  const outputs = code.flatMap((cell) => cell.outputs);

  it("has 15 to 30 cells and opens with its question", () => {
    expect(cells.length).toBeGreaterThanOrEqual(15);
    expect(cells.length).toBeLessThanOrEqual(30);
    expect(cells[0]!.kind).toBe("markdown");
    expect(cells[0]!.source).toMatch(/^# /);
    expect(cells[0]!.source).toContain("?");
  });

  it("has no line of code that a page cuts off", () => {
    for (const { source } of code) {
      expect(source.split("\n").filter((line) => line.length > 108)).toEqual([]);
    }
  });

  it("defines no functions, and asserts what the text relies on", () => {
    for (const { source } of code) {
      expect(source).not.toMatch(/\bfunction\b|^(const|let) \w+ = (async )?\([^()]*\)(: \w+)? =>/m);
    }
    expect(code.filter(({ source }) => /\bassert\b/.test(source)).length).toBeGreaterThan(2);
  });

  it("ends with the caution, the source of the data and an exercise", () => {
    const last = cells.at(-1)!.source;
    expect(last).toContain("**Data.**");
    expect(last).toContain("**Exercise.**");
    const texts = outputs.map((output) =>
      "text" in output ? output.text : String(output.data?.["text/plain"] ?? ""),
    );
    expect(texts.some((text) => text.includes(caution))).toBe(true);
  });

  it("holds its outputs: figures as bundles with a text, no error, no path of a machine", () => {
    const figures = outputs.flatMap((output) =>
      output.output_type === "display_data" && "image/png" in output.data ? [output.data] : [],
    );
    expect(figures.length).toBeGreaterThan(0);
    for (const figure of figures) {
      expect(Object.keys(figure).sort()).toEqual(["image/png", "text/html", "text/plain"]);
      expect(figure["text/html"]).toMatch(
        /<img alt="[^"]{20,}" .*src="data:image\/svg\+xml;base64,/,
      );
    }
    expect(outputs.filter((output) => "name" in output && output.name === "stderr")).toEqual([]);
    expect(machinePath(JSON.stringify(outputs))).toBeUndefined();
  });

  it("is saved in less than a megabyte", () => {
    expect(statSync(join(folder, name)).size).toBeLessThan(1_000_000);
  });
});

it("an output of JSON, which is an object, is read and written back", async () => {
  const path = join(mkdtempSync(join(tmpdir(), "notebook-")), "a.ipynb");
  const data = { "application/json": { a: [1, { b: null }] }, "text/plain": ["a\n", "b"] };
  const output = { output_type: "display_data", data, metadata: {} };
  const cell = { cell_type: "code", id: "x", metadata: {}, execution_count: 1, source: ["1"] };
  const cells = [{ ...cell, outputs: [output] }];
  writeFileSync(path, JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }));
  const { outputs } = readNotebook(path).cells[0]!;
  expect(outputs).toMatchObject([{ data: { "application/json": '{"a":[1,{"b":null}]}' } }]);
  await writeNotebook(readNotebook(path));
  expect(JSON.parse(readFileSync(path, "utf8")).cells[0].outputs).toEqual([output]);
});

it("writing a notebook keeps what the file held beside sources and outputs", async () => {
  const path = join(mkdtempSync(join(tmpdir(), "notebook-")), "a.ipynb");
  const image = { "picture.png": { "image/png": "iVBORw0KGgo=" } };
  const file = {
    cells: [
      {
        cell_type: "markdown",
        id: "own-id",
        metadata: { tags: ["kept"], slideshow: { slide_type: "skip" } },
        attachments: image,
        source: ["![](attachment:picture.png)"],
      },
      {
        cell_type: "code",
        id: "code-id",
        metadata: { collapsed: true },
        execution_count: 7,
        outputs: [{ output_type: "stream", name: "stdout", text: ["1\n"] }],
        source: ["1;"],
      },
    ],
    metadata: { authors: [{ name: "An invented author" }], kernelspec: { name: "another" } },
    nbformat: 4,
    nbformat_minor: 5,
  };
  writeFileSync(path, JSON.stringify(file));
  await writeNotebook(withoutOutputs(readNotebook(path)));
  const written = JSON.parse(readFileSync(path, "utf8"));
  expect(written.cells[0]).toEqual(file.cells[0]);
  expect(written.cells[1]).toEqual({ ...file.cells[1], execution_count: 1, outputs: [] });
  expect(written.metadata).toMatchObject(file.metadata);
});
