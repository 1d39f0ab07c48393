import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

// The floors of the developers' page: a file may import from lower floors only.
const floors: Readonly<Record<string, number>> = {
  results: 0,
  refraction: 1,
  inference: 1,
  privacy: 1,
  cohort: 2,
  accuracy: 2,
  agreement: 2,
  rules: 3,
  simulation: 3,
  thresholds: 4,
  protocol: 5,
  planning: 5,
  pooling: 6,
  tables: 7,
  figures: 7,
  study: 8,
  notebook: 9,
  cli: 10,
};

// Where the page allows less than every lower floor.
const mayImport: Readonly<Record<string, readonly string[]>> = {
  refraction: ["results"],
  inference: ["results"],
  privacy: ["results"],
  cohort: ["results", "refraction", "inference", "privacy"],
  accuracy: ["results", "inference"],
  agreement: ["results", "refraction", "inference"],
  rules: ["results", "refraction", "cohort"],
  simulation: ["results", "refraction", "inference", "cohort"],
  thresholds: ["results", "inference", "accuracy", "agreement", "rules"],
  protocol: ["results", "inference", "cohort", "rules", "thresholds"],
};

// Loaded at first use only, inside functions.
const heavy = [
  "vega",
  "vega-lite",
  "@duckdb/node-api",
  "danfojs-node",
  "@resvg/resvg-js",
  "docx",
  "pdfkit",
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

describe("layering", () => {
  it("lists every room", () => {
    const rooms = readdirSync(src).filter((name) => statSync(join(src, name)).isDirectory());
    expect(rooms.filter((name) => floors[name] === undefined)).toEqual([]);
  });

  it("lets a file import only from its own room and from lower floors", () => {
    const wrong = files.flatMap((file) => {
      const own = room(file);
      if (own === "index.ts") return [];
      return imports(file)
        .filter(({ from }) => from.startsWith("."))
        .filter(({ from }) => {
          const other = room(resolve(dirname(file), from));
          if (other === own) return false;
          const allowed = mayImport[own];
          return allowed ? !allowed.includes(other) : !(floors[other]! < floors[own]!);
        })
        .map(({ from }) => `${relative(src, file)} imports ${from}`);
    });
    expect(wrong).toEqual([]);
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
    const seen = new Set([join(src, "index.ts")]);
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
  const entry = resolve(src, "../dist/index.js");
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
    expect(loaded.some((url) => url.endsWith("/dist/results/index.js"))).toBe(true);
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
