import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { StudyOutcome } from "../../src/page/messages.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, summaryLines } from "../../src/study/index.js";
import { packageFilesOfPage, startPageWorker } from "../builders/pageWorker.js";

// The page's own worker, built for a browser, in a thread without Buffer, process, require and eval.
describe("the page's worker", () => {
  let worker: ReturnType<typeof startPageWorker>;
  let printed: string;

  beforeAll(async () => {
    printed = execFileSync(process.execPath, ["src/page/build.mjs", "study"]).toString();
    worker = startPageWorker();
    await worker.ask({ task: "begin", packageFiles: packageFilesOfPage() });
  });
  afterAll(() => worker.end());

  const text = (bytes: Uint8Array | undefined) => new TextDecoder().decode(bytes);

  it("is built within the budget, and says how large it is", () => {
    const [, size, most] = /study\.html: ([\d.]+) MB of at most ([\d.]+) MB/.exec(printed)!;
    expect(most).toBe("3.00");
    expect(Number(size)).toBeLessThan(3);
  });

  it("is what the command writes, one file that names nothing outside itself", () => {
    const folder = mkdtempSync(join(tmpdir(), "meridional-page-"));
    const path = join(folder, "a study.html");
    const said = execFileSync(process.execPath, [
      ...["dist/cli/main.js", "page", "study", "--out", path],
    ]).toString();
    expect(said).toMatch(/^Written: .*a study\.html \([\d.]+ MB\)\./);
    const page = readFileSync(path, "utf8");
    rmSync(folder, { recursive: true });
    expect(page).toBe(readFileSync("dist/page/study.html", "utf8"));
    // the caution stands first and last, and the policy before every script
    expect(page.match(/Research use only; not a medical device/g)?.length).toBe(2);
    expect(page.indexOf("Content-Security-Policy")).toBeLessThan(page.indexOf("<script"));
    expect(page).not.toMatch(/<(script|link|img|iframe)[^>]*\s(src|href)=/);
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(page)?.[1] ?? "";
    expect(policy).toMatch(
      /^default-src 'none'; script-src 'sha256-[^']+' 'sha256-[^']+'; worker-src blob:;/,
    );
    expect(policy).not.toMatch(/unsafe-eval|connect-src|https?:/);
  });

  it("gives the children protocol's result as Node.js does, to the digit, and its tables and pages", async () => {
    const json = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));
    const { outcome, files } = await worker.ask({
      task: "study",
      protocol: json,
      files: [
        ["/my-study/children.csv", readFileSync("data/children/children.csv")],
        ["/my-study/columns.json", readFileSync("data/children/columns.json")],
      ],
    });
    const result = await runStudy(defineProtocol(json), { folder: "data/children" });
    // both run in the same engine here: what differs between builds would show
    expect(text(files.get("/out/my-study/result.json"))).toBe(
      `${JSON.stringify(result, null, 1)}\n`,
    );
    const { summary, isPublic, shown } = outcome as StudyOutcome;
    expect(summary).toEqual(summaryLines(result));
    expect(isPublic).toBe(false);
    expect(shown).not.toContain("<script");
    expect([...files.keys()].filter((path) => path.endsWith(".csv")).length).toBeGreaterThan(10);
    const names = [...files.keys()].map((path) => path.replace("/out/my-study/", ""));
    for (const name of ["report.html", "report.docx", "report.md", "manifest.json"]) {
      expect(names).toContain(name);
    }
    expect(names).not.toContain("report.pdf");
    const manifest = JSON.parse(text(files.get("/out/my-study/manifest.json")));
    expect(Object.keys(manifest.inputs)).toEqual(["children.csv", "columns.json", "protocol.json"]);
  });

  it("prepares raw exports as the command line does, and asks what it asks", async () => {
    const { outcome: practice, files } = await worker.ask({ task: "practice" });
    expect(practice.names).toEqual(["practice-screening.csv", "practice-clinic.csv"]);
    expect(text(files.get("/exports/practice-clinic.csv")).split("\n")[0]).toBe(
      "Pupil number,Exam date,Eye,Sphere,Cylinder,Axis,Cycloplegia",
    );
    const { outcome: first } = await worker.ask({ task: "prepare", names: practice.names });
    expect(first.written).toBe(false);
    expect(first.questions.map(({ key }) => key)).toEqual(["ids.ignore"]);
    const choices = { ...first.choices, ids: { ignore: ["leading-zeros" as const] } };
    const { outcome: second, files: study } = await worker.ask({
      task: "prepare",
      names: practice.names,
      choices,
    });
    expect(second.written).toBe(true);
    expect(second.link.matched).toBe(400);
    expect([...study.keys()]).toEqual(
      expect.arrayContaining(["/my-study/readings.csv", "/my-study-key/children.csv"]),
    );
    const readings = text(study.get("/my-study/readings.csv"));
    expect(readings).not.toContain("00001");
    expect(readings).not.toContain("2026-");
  });

  it("refuses Parquet and what is no table, with the way out", async () => {
    const parquet = new TextEncoder().encode("PAR1 and more than that PAR1");
    const ask = (name: string, bytes: Uint8Array) =>
      worker.ask({ task: "prepare", names: [name], files: [[`/exports/${name}`, bytes]] });
    await expect(ask("a.parquet", parquet)).rejects.toThrow(
      "requires CSV, TSV or XLSX in a page, got Parquet (a.parquet); save the table as CSV where it was made",
    );
    await expect(ask("a.pdf", new Uint8Array([37, 80, 68, 70, 0, 1, 2]))).rejects.toThrow(
      "got a binary file (a.pdf)",
    );
    await expect(ask("a.csv", new Uint8Array(0))).rejects.toThrow("got an empty one (a.csv)");
  });
});
