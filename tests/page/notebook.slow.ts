import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { filesToEmbed } from "../../src/page/embedding.js";
import { notebookPage } from "../../src/page/index.js";
import { builtShell } from "../../src/page/notebookPage.js";
import { type CellThread, startCellThread } from "../../src/page/runInPage.js";

let folder: string;
let printed: string;

beforeAll(() => {
  printed = execFileSync(process.execPath, ["src/page/build.mjs", "notebook"]).toString();
  folder = mkdtempSync(join(tmpdir(), "meridional-notebook-"));
  mkdirSync(join(folder, "notes"));
  mkdirSync(join(folder, "data"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const put = (path: string, content: string | Uint8Array) => {
  writeFileSync(join(folder, path), content);
  return join(folder, path);
};

describe("the page of a notebook", () => {
  const notebook = (name: string, ...sources: readonly string[]) => {
    const cells = sources.map((source) =>
      source.startsWith("#")
        ? { cell_type: "markdown", metadata: {}, source }
        : { cell_type: "code", metadata: {}, source, outputs: [], execution_count: null },
    );
    return put(
      `notes/${name}.ipynb`,
      JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }),
    );
  };
  const part = (html: string, id: string) => {
    const [, packed] = new RegExp(`id="${id}"[^>]*>([^<]*)<`).exec(html) ?? [];
    return gunzipSync(Buffer.from(packed ?? "", "base64"));
  };

  it("is built within the budget, and says how large it is", () => {
    const [, size, most] = /notebook\.html: ([\d.]+) MB of at most ([\d.]+) MB/.exec(printed)!;
    expect(most).toBe("3.50");
    expect(Number(size)).toBeLessThan(3.5);
  });

  it("holds the notebook and the files that it reads, found by running it", async () => {
    for (const name of ["children.csv", "columns.json"]) {
      put(`data/${name}`, readFileSync(`data/children/${name}`));
    }
    const path = notebook(
      "found",
      "# Found <b>by</b> running",
      'import { defineColumns, readReadings } from "meridional";\nimport { readFileSync } from "node:fs";\nconst columns = defineColumns(JSON.parse(readFileSync("../data/columns.json", "utf8")));',
      // biome-ignore lint/suspicious/noTemplateCurlyInString: a cell that holds a template
      'const name = ["child", "ren"].join("");\nconst readings = await readReadings(`../data/${name}.csv`, { columns });\nreadings.n',
    );
    const { html, files, differences } = await notebookPage(path);
    expect(files).toEqual(["/data/columns.json", "/data/children.csv"]);
    // nothing was saved, so what it shows is new
    expect(differences).toEqual(["code cell 2: 0 outputs saved, 1 now"]);
    expect(/<title>(.*)<\/title>/.exec(html)?.[1]).toBe("Found &lt;b&gt;by&lt;/b&gt; running");
    const own = JSON.parse(part(html, "notebook").toString());
    expect(own).toMatchObject({ name: "found.ipynb", folder: "/notes" });
    expect(own.text).toBe(readFileSync(path, "utf8"));
    expect(own.files[1].about).toContain("MIT License");
    expect(part(html, "file-1").equals(readFileSync("data/children/children.csv"))).toBe(true);
    // a page is long: what is asked of it is answered in a word
    expect(html.includes(folder)).toBe(false);
    // the caution stands first and last, and the policy before every script
    expect(html.match(/Research use only; not a medical device/g)?.length).toBe(2);
    expect(html.indexOf("Content-Security-Policy")).toBeLessThan(html.indexOf("<script"));
    const markup = html.slice(0, html.lastIndexOf("<script>"));
    expect(/<(script|link|img|iframe)[^>]*\s(src|href)=/.exec(markup)).toBe(null);
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1] ?? "";
    expect(policy).toMatch(
      /^default-src 'none'; script-src 'sha256-[^']+' 'sha256-[^']+' blob:; worker-src blob:;/,
    );
    expect(policy).not.toMatch(/unsafe-eval|connect-src|https?:/);
  });

  it("is refused by the cell that does not run in a page", async () => {
    const path = notebook("refused", "1", 'import { z } from "zod";');
    await expect(notebookPage(path)).rejects.toThrow(
      /^page requires a notebook that runs in a page, got code cell 2 of .*refused\.ipynb: .*no module "zod"/,
    );
  });

  it("takes no file of others unasked, and none with identifiers or a way back to children", async () => {
    const embed = (name: string, text: string, embedData = true) => {
      const path = put(`data/${name}`, text);
      return filesToEmbed([[path, new TextEncoder().encode(text)]], { embedData });
    };
    const own = "subject,M\nP1,-1.25\nP2,0.5\n";
    await expect(embed("own.csv", own, false)).rejects.toThrow(/--embed-data .*own\.csv/);
    expect(await embed("own.csv", own)).toMatchObject([{ about: null }]);
    // study numbers in a column of any name are what a study file has; two such columns are not
    const codes = (columns: number) =>
      Array.from({ length: 60 }, (_, row) =>
        [...Array(columns).fill(`k-${row}x`), "0.25"].join(","),
      ).join("\n");
    expect(await embed("codes.csv", `child,M\n${codes(1)}\n`)).toHaveLength(1);
    await expect(embed("codes.csv", `child,other,M\n${codes(2)}\n`)).rejects.toThrow(
      "without identifiers",
    );
    await expect(
      embed("names.csv", "subject,date of birth,M\nP1,2019-03-04,-1.25\nP2,2018-11-30,0.5\n"),
    ).rejects.toThrow(/without identifiers, got .*names\.csv \(.*date of birth/);
    await expect(embed("key.csv", 'number,subject\n0001,"4711"\n0002,"4712"\n')).rejects.toThrow(
      "a key table is never passed on",
    );
  });

  it("names no folder of the machine that made it", async () => {
    put("data/own.txt", "1");
    const path = notebook(
      "absolute",
      `import { readFileSync } from "node:fs";\nreadFileSync(${JSON.stringify(join(folder, "data/own.txt"))}, "utf8")`,
    );
    await expect(notebookPage(path, { embedData: true })).rejects.toThrow("a path of this machine");
  });
});

// The worker of the page, built for a browser, in one thread without what a browser does not have, and
// without a disk behind it.
describe("cells in a page", () => {
  let cells: CellThread;
  beforeAll(async () => {
    const text = (content: string) => new TextEncoder().encode(content);
    cells = startCellThread({
      ...(await builtShell()),
      folder: "/notes",
      files: [
        ["/data/a.csv", text("a,b\n1,2\n")],
        ["/data/rows.parquet", text("PAR1 and more than that PAR1")],
      ],
    });
  });
  afterAll(() => cells.end());

  const shown = async (source: string) => {
    const { outputs, failed } = await cells.run(source);
    const forms = outputs.map((one) => (one.output_type === "stream" ? one.text : one.data));
    return failed ? ["failed", ...forms] : forms;
  };

  it("show what the kernel shows, in its order", async () => {
    expect(
      await shown(
        'import { limitsOfAgreement, rocCurve, rocFigure, show } from "meridional";\nimport assert from "node:assert";\nimport { mean } from "simple-statistics";',
      ),
    ).toEqual([]);
    expect(await shown("mean([1, 2, 6])")).toEqual(["3\n"]);
    expect(
      await shown(
        'console.log("a", { b: new Map([[1, [2]]]) }); show("words"); console.error(new RangeError("far")); console.log("z")',
      ),
    ).toEqual([
      "a { b: Map(1) { 1 => [ 2 ] } }\n",
      { "text/html": "<p>words</p>", "text/plain": "words" },
      "RangeError: far\n",
      "z\n",
    ]);
    const [figure] = (await shown(
      'show(rocFigure(rocCurve({ values: [1, 2, 3, 4], condition: [0, 0, 1, 1] }, { positiveWhen: "high" })))',
    )) as [Record<string, string>];
    expect(Object.keys(figure).sort()).toEqual(["text/html", "text/plain"]);
    expect(figure["text/html"]).toMatch(
      /^<img alt="[^"]+" width="\d+" src="data:image\/svg\+xml;base64,/,
    );
    expect(
      await shown("limitsOfAgreement({ test: [1, 2, 3], reference: [1, 2, 4] }).bias"),
    ).toEqual([expect.stringMatching(/^-0\.33 \(/)]);
    expect(await shown("assert.equal(1, 1)")).toEqual([]);
    expect(await shown("null")).toEqual([]);
  });

  it("share names, declared again, changed, and called as the browser calls its own", async () => {
    await shown(
      "const a = 1; let b = 1; const name = 'x'; const performance = 2; function twice(c: number) { return 2 * c; }",
    );
    expect(await shown("const a = 5; b++; [a, b, name, performance, twice(4)]")).toEqual([
      "[ 5, 2, 'x', 2, 8 ]\n",
    ]);
    expect(await shown("[a, b]")).toEqual(["[ 5, 2 ]\n"]);
  });

  it("read and write files in memory, and hand over what was written", async () => {
    await shown(
      'import { existsSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from "node:fs";\nimport { tmpdir } from "node:os";\nimport { join } from "node:path";\nimport { readFile } from "fs/promises";',
    );
    expect(
      await shown(
        'readFileSync("../data/a.csv").toString().length + (await readFile("/data/a.csv", "utf8")).length',
      ),
    ).toEqual(["16\n"]);
    const { outputs, written } = await cells.run(
      'const place = join(mkdtempSync(join(tmpdir(), "out-")), "b.txt");\nwriteFileSync(place, "kept");\n[existsSync(place), readFileSync(place, "utf8"), existsSync("nowhere")]',
    );
    expect(outputs).toMatchObject([{ text: "[ true, 'kept', false ]\n" }]);
    expect(written.map(([path, bytes]) => [path, new TextDecoder().decode(bytes)])).toEqual([
      ["/tmp/out-1/b.txt", "kept"],
    ]);
  });

  it.each([
    ['fetch("https://example.org")', 1, /fetch is closed to cells/],
    ["\npostMessage(1)", 2, /postMessage is closed to cells/],
    ["importScripts('https://example.org')", 1, /importScripts is closed to cells/],
    ["eval('1')", 1, /EvalError/],
    ["await import('https://example.org')", 1, /a page has no module "https:/],
    ['import { z } from "zod";', null, /no module "zod"; it has meridional, simple-statistics/],
    ['readFileSync("/etc/hostname")', 1, /ENOENT/],
    [
      'import { limitsOfAgrement } from "meridional";\nlimitsOfAgrement',
      2,
      /did you mean limitsOfAgreement\?/,
    ],
    ["limitsOfAgreement({ test: [1] })", 1, /InputError: limitsOfAgreement requires/],
    ["assert.equal(1, 2)", 1, /AssertionError: 1 == 2/],
    ["void Promise.reject(new Error('late'));\n1", 1, /a rejected promise: late/],
    [
      "type A = {\n  b: number;\n};\n\nconst f = () => {\n  throw new RangeError('far');\n};\nf()",
      6,
      /RangeError: far/,
    ],
    ["1;\n2;\nlet = 3", 3, /SyntaxError: /],
    [
      'import { toFrame } from "meridional";\ntoFrame({ kind: "table", title: "t", columns: [{ label: "M", format: "dioptres" }], rows: [{ cells: [-1.25] }], notes: [] })',
      2,
      /toFrame requires danfojs, which is larger than a page may be/,
    ],
    [
      'import { auditFile } from "meridional";\nawait auditFile("../data/rows.parquet")',
      2,
      /requires CSV, TSV or XLSX in a page, got Parquet/,
    ],
  ])("give %j an error, with its line", async (source, line, message) => {
    const run = await cells.run(source);
    expect(run).toMatchObject({ failed: true, line });
    expect(run.outputs.at(-1)).toMatchObject({
      name: "stderr",
      text: expect.stringMatching(message),
    });
  });
});
