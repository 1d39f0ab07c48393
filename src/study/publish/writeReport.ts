import { citationsOf } from "../../citations/index.js";
import {
  fileStem,
  has,
  hashOfFile,
  ownVersion,
  relative,
  replaceFolder,
  requireOwnFolder,
  resolve,
  runtimeName,
  secretHex,
  sha256,
} from "../../platform/index.js";
import type { FigureSpec, RunOptions, TableModel } from "../../results/index.js";
import { toCsv, toWorkbook } from "../../tables/index.js";
import type { Report } from "../report/report.js";
import { studyReport } from "../report/studyReport.js";
import { inputsOf } from "../run/runStudy.js";
import type { StudyResult } from "../run/studyResult.js";
import { confidentialFolder } from "./confidentialFolder.js";
import { type DrawnFigure, drawFigure } from "./drawnFigure.js";
import { releasedChildren } from "./releases.js";
import { reportHtml } from "./writeHtml.js";
import { reportMarkdown } from "./writeMarkdown.js";
import { reportPdf } from "./writePdf.js";
import { pageOfSummary, summaryPdf, summaryPng } from "./writeSummary.js";
import { reportWord } from "./writeWord.js";

/** What anybody may know of how a report was made; with `manifest.json` of the exact result, one run. */
export interface PublicManifest {
  readonly kind: "manifest";
  readonly written: string;
  readonly meridional: string;
  readonly node: string;
  readonly protocolHash: string;
  /** Random, the same in the two folders of one run. */
  readonly run: string;
}

/** What a report was made from; the only file of a report that differs between equal runs. */
export interface Manifest extends PublicManifest {
  readonly seed: number;
  /** Where the input files lie, as seen from the folder of this manifest. */
  readonly sources: string;
  /** SHA-256 of every input, by name, and of every file of the report. */
  readonly inputs: { readonly [name: string]: string };
  readonly files: { readonly [path: string]: string };
}

export interface WriteReportOptions extends RunOptions {
  /** Folder of the input files and their paths within it, for the manifest. */
  readonly sources?: { readonly folder: string; readonly files: readonly string[] };
}

/**
 * Writes a study as one folder: report.html (needs no network), report.docx, report.pdf, report.md,
 * its first page as summary.pdf and summary.png, figures as SVG and PNG, tables as CSV, references.bib,
 * result.json and manifest.json. Equal results give equal files, the manifest apart. The folder is
 * replaced at once. For the public audience the report is made of coarse counts, and its manifest names
 * no input; result.json, which holds exact counts, the full
 * manifest and children.json (for `compareReleases`) lie in a folder beside it, `NAME-confidential`,
 * which only its owner can read and which is not to be passed on.
 *
 * @param result from `runStudy`, or read back from result.json
 * @param folder one that does not exist, or that an earlier call wrote
 * @returns paths of the files, relative to the folder; those of the confidential folder are not among them
 *
 * @example
 * import { tmpdir } from "node:os";
 * import { readFileSync } from "node:fs";
 * const protocol = defineProtocol(JSON.parse(readFileSync("data/children/protocol.json", "utf8")));
 * const study = await runStudy(protocol, { folder: "data/children" });
 * (await writeReport(study, `${tmpdir()}/example-study`)).includes("report.html") // => true
 */
export async function writeReport(
  result: StudyResult,
  folder: string,
  options: WriteReportOptions = {},
): Promise<readonly string[]> {
  const { signal, onProgress, sources = { folder: ".", files: [] } } = options;
  const report = studyReport(result);
  const files = new Map<string, string | Uint8Array>();
  const drawn = new Map<string, DrawnFigure>();
  const figures = blocksOf(report, "figure");
  for (const [at, figure] of figures.entries()) {
    signal?.throwIfAborted();
    onProgress?.({ stage: "drawing the figures", done: at / figures.length });
    const picture = await drawFigure(figure, report.style);
    drawn.set(figure.name, picture);
    files.set(`figures/${figure.name}.svg`, picture.screen);
    files.set(`figures/${figure.name}.png`, picture.png);
  }
  for (const table of blocksOf(report, "table")) {
    files.set(freePath(files, `tables/${fileStem(table.title)}`, ".csv"), toCsv(table));
  }
  const programme = report.sections.filter(({ id }) => id === "programme");
  const figuresOfProgramme = blocksOf({ ...report, sections: programme }, "table");
  if (figuresOfProgramme.length > 0) {
    files.set("tables/programme.xlsx", await toWorkbook(figuresOfProgramme));
  }
  onProgress?.({ stage: "writing the report", done: 0 });
  const { outputs } = result.protocol;
  const wanted = (output: ReportOutput) => outputs === undefined || outputs.includes(output);
  if (wanted("html")) files.set("report.html", await reportHtml(report, drawn));
  if (wanted("markdown")) files.set("report.md", reportMarkdown(report));
  if (wanted("word")) files.set("report.docx", await reportWord(report, drawn));
  signal?.throwIfAborted();
  if (wanted("pdf") && has.pdf) files.set("report.pdf", await reportPdf(report, drawn));
  const summary = await pageOfSummary(report, drawn);
  files.set("summary.png", await summaryPng(summary));
  if (wanted("pdf") && has.pdf) files.set("summary.pdf", await summaryPdf(summary));
  const isPublic = result.protocol.audience === "public";
  // of what the public sees, the report alone tells the methods: a method can tell that a count was 0
  const definitions = result.conditions.map(({ citation }) => ({ citation }));
  const told = isPublic ? { report, definitions } : { result, report };
  files.set("references.bib", citationsOf(told).bibtex);
  const exact = `${JSON.stringify(result, null, 1)}\n`;
  if (!isPublic) files.set("result.json", exact);
  const apart = confidentialFolder(folder);
  const common = publicManifest(result);
  const full: Manifest = {
    ...common,
    seed: result.protocol.seed,
    sources: relative(resolve(isPublic ? apart : folder), resolve(sources.folder)),
    inputs: await inputHashes(result, sources),
    files: Object.fromEntries([...files].map(([path, content]) => [path, sha256(content)])),
  };
  files.set("manifest.json", json(isPublic ? common : full));
  if (isPublic) await requireOwnFolder(apart);
  onProgress?.({ stage: "writing the report", done: 1 });
  if (isPublic) {
    const released = releasedChildren(result);
    const secret = new Map([
      ["result.json", exact],
      ["manifest.json", json(full)],
      ...(released === null ? [] : [["children.json", json(released)] as const]),
    ]);
    await replaceFolder(apart, secret, { caller: "writeReport", private: true });
  }
  await replaceFolder(folder, files, { caller: "writeReport" });
  return [...files.keys()];
}

const json = (content: object) => `${JSON.stringify(content, null, 2)}\n`;

type ReportOutput = NonNullable<StudyResult["protocol"]["outputs"]>[number];

/** Two tables of one title, such as two groupings by age, get a file each. */
function freePath(files: ReadonlyMap<string, unknown>, stem: string, ending: string): string {
  let path = `${stem}${ending}`;
  for (let copy = 2; files.has(path); copy++) path = `${stem}-${copy}${ending}`;
  return path;
}

function publicManifest({ protocolHash }: StudyResult): PublicManifest {
  return {
    kind: "manifest",
    written: new Date().toISOString(),
    meridional: ownVersion(),
    node: runtimeName(),
    protocolHash,
    run: secretHex(8),
  };
}

/** Of the bytes that the study has read; of the file as it is now only where another read the result. */
async function inputHashes(
  result: StudyResult,
  { folder, files }: NonNullable<WriteReportOptions["sources"]>,
): Promise<Manifest["inputs"]> {
  const read = inputsOf(result);
  const hashes: [string, string][] = [];
  for (const name of files) {
    const path = resolve(folder, name);
    hashes.push([name, read.get(path) ?? (await hashOfFile(path))]);
  }
  return Object.fromEntries(hashes);
}

function blocksOf(report: Report, kind: "figure"): FigureSpec[];
function blocksOf(report: Report, kind: "table"): TableModel[];
function blocksOf(report: Report, kind: "figure" | "table"): (FigureSpec | TableModel)[] {
  return report.sections.flatMap(({ blocks }) =>
    blocks.filter((block): block is FigureSpec | TableModel => block.kind === kind),
  );
}
