import { readdir, readFile } from "node:fs/promises";
import { describe, expect, test } from "vitest";

/** Text of a README on one line, without quotation marks of Markdown. */
async function plainText(path: string): Promise<string> {
  const text = await readFile(path, "utf8");
  return text.replace(/^> ?/gm, "").replace(/\s+/g, " ");
}

const surveyNotice =
  "Public-use data of the US National Center for Health Statistics. By using them you agree to use " +
  "them for statistical reporting and analysis only; to make no attempt to learn the identity of " +
  "any person or establishment; not to link them with individually identifiable data; and not to " +
  "assess disclosure protection or study re-identification with them. See the Center's data user " +
  "agreement.";

// The MIT licence as the Open Source Initiative prints it.
const licence = [
  "MIT License Copyright (c) 2026 ",
  "Permission is hereby granted, free of charge, to any person obtaining a copy of this software " +
    'and associated documentation files (the "Software"), to deal in the Software without ' +
    "restriction, including without limitation the rights to use, copy, modify, merge, publish, " +
    "distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the " +
    "Software is furnished to do so, subject to the following conditions:",
  "The above copyright notice and this permission notice shall be included in all copies or " +
    "substantial portions of the Software.",
  'THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING ' +
    "BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND " +
    "NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, " +
    "DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING " +
    "FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.",
];

describe("each data set carries the notice of its source, word for word", () => {
  test("survey", async () => {
    expect(await plainText("data/survey/README.md")).toContain(surveyNotice);
  });

  test("children", async () => {
    const text = await plainText("data/children/README.md");
    for (const part of licence) expect(text).toContain(part);
  });

  test("classics name their publications", async () => {
    const text = await plainText("data/classics/README.md");
    for (const reference of ["Lancet 1986;i:307-310", "Biometrics 1988;44:837-845"]) {
      expect(text).toContain(reference);
    }
  });

  test("every folder of data has a README that names each of its tables", async () => {
    for (const folder of await readdir("data")) {
      const files = await readdir(`data/${folder}`);
      expect(files, folder).toContain("README.md");
      const text = await plainText(`data/${folder}/README.md`);
      for (const file of files.filter((name) => name.endsWith(".csv"))) {
        const name = file.replace(/\d{4}_\d{4}/, "YYYY_YYYY");
        expect(text, folder).toContain(name);
      }
    }
  });
});
