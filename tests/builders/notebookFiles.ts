import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterAll, beforeAll } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const main = join(root, "dist/cli/main.js");

/** What `meridional notebooks --json` says of one file. */
export interface NotebookReport {
  readonly path: string;
  readonly status: string;
  readonly cell?: number;
  readonly source?: string;
  readonly message?: string;
  readonly differences?: string[];
}

/** Notebooks of some cells each, in a folder of the calling file's tests. */
export function notebookFiles(): (name: string, ...sources: string[]) => string {
  // inside the project, so that the cells find the package
  let folder: string;
  beforeAll(() => {
    mkdirSync(join(root, "out"), { recursive: true });
    folder = mkdtempSync(join(root, "out", "notebooks-"));
  });
  afterAll(() => rmSync(folder, { recursive: true }));
  return (name, ...sources) => {
    const cells = sources.map((source) => {
      return { cell_type: "code", source, outputs: [], metadata: {}, execution_count: null };
    });
    const path = join(folder, `${name}.ipynb`);
    writeFileSync(path, JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }));
    return path;
  };
}

/** Calls the built command `meridional notebooks`. */
export function notebooksCommand(...parameters: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [main, "notebooks", ...parameters],
    { encoding: "utf8" },
  );
  return { code: status, stdout, stderr };
}

/** The same with --json. */
export function notebookReports(...parameters: string[]): {
  readonly code: number | null;
  readonly reports: readonly NotebookReport[];
} {
  const { code, stdout } = notebooksCommand("--json", ...parameters);
  return { code, reports: JSON.parse(stdout) };
}
