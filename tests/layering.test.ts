import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

// The table of rooms on the developers' page: | floor | `room/` | what lives there | may import |
const rooms = new Map(
  [
    ...readFileSync("DEVELOPERS.md", "utf8").matchAll(
      /^\| (\d+) \| `(\w+)\/` \|.*\| ([^|]+) \|$/gm,
    ),
  ].map(([, floor, room, allowed]) => [room!, { floor: Number(floor), allowed: allowed! }]),
);

/** Whether the page lets a room import another. */
function mayImport(own: string, other: string): boolean {
  if (other === "results") return own !== "results";
  const { floor, allowed } = rooms.get(own)!;
  if (!(rooms.get(other)!.floor < floor)) return false;
  return allowed === "floors below" || allowed.split(", ").includes(other);
}

// Files that other rooms import past the index: types of a library that a notebook cell cannot read, and
// what a command alone needs, loaded when it is called; what a page gives to its own side of the platform,
// the little of a notebook that it shows, what tells a table by its first bytes, and what moves a report's limit.
const pastTheDoor: readonly string[] = [
  "accuracy/logitRatio.ts",
  "accuracy/shareAtOdds.ts",
  "cohort/read/sniffBytes.ts",
  "figures/render/pdf.ts",
  "handbook/markdown.mjs",
  "inference/wilsonInterval.ts",
  "notebook/folder/makeFolder.ts",
  "notebook/notebookFile.ts",
  "notebook/notebookText.ts",
  "notebook/registerKernel.ts",
  "notebook/runner.ts",
  "platform/browser/index.ts",
  "study/publish/benchPage.ts",
  "study/publish/benchReadout.ts",
  "study/publish/ruleBenchPage.ts",
];

// Loaded at first use only, inside functions.
const heavy = [
  "vega",
  "vega-lite",
  "@duckdb/node-api",
  "danfojs-node",
  "@resvg/resvg-js",
  "docx",
  "pdfkit",
  "write-excel-file/node",
  "fflate",
];

const src = resolve(import.meta.dirname, "../src");
const files = readdirSync(src, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .map((name) => join(src, name));

interface Import {
  readonly from: string;
  readonly typeOnly: boolean;
  /** Inside a function, by import(). */
  readonly lazy: boolean;
}

function imports(file: string): Import[] {
  const text = readFileSync(file, "utf8");
  const pattern =
    /^(import|export)\s+(type\s)?[^;]*?from\s+"([^"]+)"|^import\s+"([^"]+)"|\bimport\(\s*"(\.[^"]+)"/gm;
  return [...text.matchAll(pattern)].map(([, , type, from, bare, lazy]) => ({
    from: from ?? bare ?? lazy!,
    typeOnly: type !== undefined,
    lazy: lazy !== undefined,
  }));
}

function room(file: string): string {
  return relative(src, file).split(/[\\/]/)[0]!;
}

const targetOf = (file: string, from: string) =>
  resolve(dirname(file), from.replace(/\.js$/, ".ts"));

/** Imports of one room by another. */
function between() {
  return files
    .filter((file) => !["face.ts", "index.ts", "internal.ts"].includes(room(file)))
    .flatMap((file) =>
      imports(file)
        .filter(({ from }) => from.startsWith("."))
        .map(({ from }) => ({ file, target: targetOf(file, from) }))
        .map((one) => ({ ...one, own: room(one.file), other: room(one.target) }))
        // what a cell of a page may import is the public face, as in a notebook
        .filter(({ own, other }) => own !== other && !(own === "page" && other === "face.ts")),
    );
}

const words = ({ file, target }: { file: string; target: string }) =>
  `${relative(src, file)} imports ${relative(src, target)}`;

/** What each file imports at once. */
const importsOf = () =>
  new Map(
    files.map((file): [string, string[]] => [
      file,
      imports(file)
        .filter(({ from, lazy }) => from.startsWith(".") && !lazy)
        .map(({ from }) => targetOf(file, from)),
    ]),
  );

/** Who is in a circle, or imports one: what is left when all who import nobody are taken off, again and again. */
function circles(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const left = new Map(graph);
  for (let before = -1; before !== left.size; ) {
    before = left.size;
    for (const [file, others] of left) {
      if (!others.some((other) => left.has(other))) left.delete(file);
    }
  }
  return [...left.keys()];
}

describe("layering", () => {
  it("lists every room", () => {
    const folders = readdirSync(src).filter((name) => statSync(join(src, name)).isDirectory());
    expect([...rooms.keys()].sort()).toEqual(folders.sort());
  });

  it("lets a file import only from its own room and from lower floors", () => {
    const wrong = between().filter(({ own, other }) => !mayImport(own, other));
    expect(wrong.map(words)).toEqual([]);
  });

  it("enters another room by its index", () => {
    const past = between().filter(
      ({ target }) => relative(src, target).split(/[\\/]/)[1] !== "index.ts",
    );
    expect(
      past.filter(({ target }) => !pastTheDoor.includes(relative(src, target))).map(words),
    ).toEqual([]);
  });

  it("runs a study without drawing it, and without its report", () => {
    const run = files.filter((file) => relative(src, file).startsWith(join("study", "run")));
    const beyond = ["figures", join("study", "report"), join("study", "publish")];
    const wrong = run.flatMap((file) =>
      imports(file)
        .filter(({ from }) => from.startsWith("."))
        .map(({ from }) => ({ file, target: targetOf(file, from) }))
        .filter(({ target }) => beyond.some((name) => relative(src, target).startsWith(name))),
    );
    expect(run.length).toBeGreaterThan(10);
    expect(wrong.map(words)).toEqual([]);
  });

  it("names modules of Node.js in platform/node/, and in the rooms that run there alone", () => {
    const runsThere = ["cli", "notebook", join("platform", "node")];
    const naming = files
      .filter((file) => /^(?! \*).*(from |import\()"node:/m.test(readFileSync(file, "utf8")))
      .map((file) => relative(src, file));
    expect(naming.some((file) => file.startsWith(join("platform", "node")))).toBe(true);
    expect(naming.filter((file) => !runsThere.some((room) => file.startsWith(room)))).toEqual([]);
  });

  it("goes in no circle, types included", () => {
    expect(circles(importsOf()).map((file) => relative(src, file))).toEqual([]);
    const planted = new Map([
      ["a", ["b"]],
      ["b", ["c"]],
      ["c", ["a"]],
      ["d", []],
    ]);
    expect(circles(planted)).toEqual(["a", "b", "c"]);
  });

  it("imports files that exist, by their .js name", () => {
    const wrong = files.flatMap((file) =>
      imports(file)
        .filter(({ from }) => from.startsWith("."))
        .filter(({ from }) => !existsSync(resolve(dirname(file), from.replace(/\.js$/, ".ts"))))
        .map(({ from }) => `${relative(src, file)} imports ${from}`),
    );
    expect(wrong).toEqual([]);
  });

  it("reaches heavy libraries only inside functions or in a worker of its own", () => {
    const seen = new Set([join(src, "face.ts")]);
    const wrong: string[] = [];
    for (const file of seen) {
      for (const { from, typeOnly, lazy } of imports(file)) {
        if (typeOnly || lazy) continue;
        if (from.startsWith(".")) seen.add(resolve(dirname(file), from.replace(/\.js$/, ".ts")));
        else if (heavy.includes(from)) wrong.push(`${relative(src, file)} imports ${from}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

// The built package, as a notebook imports it.
describe("importing the package", () => {
  const { main } = JSON.parse(readFileSync("package.json", "utf8"));
  const entry = resolve(src, "..", main);
  const run = (program: string) =>
    execFileSync(process.execPath, ["--input-type=module", "-e", program]).toString();

  it("loads no chart, database, frame or image library, not even by way of another", () => {
    // a file, since a full pipe does not wait for its reader
    const list = join(mkdtempSync(join(tmpdir(), "loaded-")), "urls");
    const hook = `
      import { appendFileSync } from "node:fs";
      export async function resolve(name, context, next) {
        const found = await next(name, context);
        appendFileSync(${JSON.stringify(list)}, found.url + "\\n");
        return found;
      }`;
    const program = `
      import { createRequire, register } from "node:module";
      register(${JSON.stringify(`data:text/javascript,${encodeURIComponent(hook)}`)});
      await import(${JSON.stringify(entry)});
      console.log(Object.keys(createRequire(${JSON.stringify(entry)}).cache).join("\\n"));`;
    const loaded = [...run(program).split("\n"), ...readFileSync(list, "utf8").split("\n")];
    rmSync(dirname(list), { recursive: true });
    expect(loaded.some((url) => url.endsWith("/simple-statistics.mjs"))).toBe(true);
    // one file, and the functions whose text is a report's script
    const own = loaded.filter((url) => url.includes("/dist/")).map((url) => basename(url));
    expect(own.filter((name) => !name.startsWith("simple")).sort()).toEqual(
      expect.arrayContaining([
        "benchPage.js",
        "face.js",
        "ruleBenchPage.js",
        "shareAtOdds.js",
        "wilsonInterval.js",
      ]),
    );
    expect(own.length).toBeLessThan(20);
    expect(
      loaded.filter((url) => heavy.some((name) => url.includes(`/node_modules/${name}/`))),
    ).toEqual([]);
  });
});

describe("the kinds of results", () => {
  it("are lower case with hyphens", () => {
    const kinds = files.flatMap((file) =>
      [...readFileSync(file, "utf8").matchAll(/\bkind: "([^"]+)"/g)].map(([, kind]) => kind!),
    );
    expect(kinds.length).toBeGreaterThan(100);
    expect(kinds.filter((kind) => !/^[a-z0-9]+(-[a-z0-9]+)*$/.test(kind))).toEqual([]);
  });
});
