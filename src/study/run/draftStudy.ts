import { open } from "node:fs/promises";
import { relative, resolve } from "node:path";
import { protocolJsonSchema } from "../../protocol/index.js";
import { InputError } from "../../results/index.js";

/**
 * A starting protocol, its column mapping and its schema, as JSON by file name. Columns are proposed
 * by their names alone, and every proposal carries a note that asks for a look: nothing is decided.
 *
 * @param sources delimited text files with a header; `folder` is where the protocol will lie
 * @throws when a file cannot be read, has no header, or no column can be the subject
 */
export async function draftStudy(sources: {
  readonly readings: string;
  readonly findings: string;
  readonly folder: string;
}): Promise<{ readonly [file: string]: object }> {
  const { header: readings, comma: readingsComma } = await startOf(sources.readings);
  const { header: findings, comma: findingsComma } = await startOf(sources.findings);
  const subject = subjectColumns(readings, findings);
  const shared = readings.filter((name) => findings.includes(name));
  const own = (header: readonly string[]) =>
    ageAndSite(header.filter((name) => !shared.includes(name)));
  const from = (path: string) => relative(resolve(sources.folder), resolve(path));
  const notes = { look: "Proposed from the column's name: check it against the file." };
  return {
    "columns.json": {
      kind: "columns",
      version: 1,
      note: `${notes.look} Columns seen: ${[...new Set([...readings, ...findings])].join(", ")}.`,
      ...(readingsComma || findingsComma ? { text: { decimal: "," } } : {}),
      ...ageUnit(readings, findings),
      columns: { subject: subject.readings, ...ageAndSite(shared) },
      readings: [
        {
          instrument: "screening",
          cycloplegia: "none",
          correction: "unknown",
          ...powerColumns(readings, own(readings)),
          note: `${notes.look} Say what correction was worn and the sign of the cylinder.`,
        },
      ],
      findings: [
        {
          cycloplegia: "unknown",
          verificationReason: "unknown",
          ...powerColumns(
            findings,
            subject.findings === subject.readings
              ? own(findings)
              : { subject: subject.findings, ...own(findings) },
          ),
          note: `${notes.look} Say whether drops were given, and why each child was examined.`,
        },
      ],
    },
    "protocol.json": {
      $schema: "./protocol.schema.json",
      kind: "protocol",
      version: 1,
      title: "To be written",
      question: "To be written: the question in one line",
      audience: "public",
      sources: {
        readings: { file: from(sources.readings), columns: "columns.json" },
        findings: { file: from(sources.findings), columns: "columns.json" },
        note: "Files without identifiers; run meridional audit on each first.",
      },
      indexTest: {
        instrument: "screening",
        cycloplegia: "none",
        description: "to be written: kind of instrument, settings, distance",
        repeats: "first",
        note: "Which reading of an eye counts: first, last or highest-confidence.",
      },
      referenceStandard: {
        equivalent: "computed",
        description: "to be written: kind of exam, drops, who examined",
        note: 'An exam without cycloplegia is no reference for hyperopia: "cycloplegia": ["full"] keeps such exams out, and counts them.',
      },
      linkage: {
        note: "daysBetween, such as [0, 180], keeps exams within a window of days; exam: first, last or nearest of several.",
      },
      eligibility: { note: "ageMonths or ageYears, from (included) to (left out)." },
      unit: "child",
      eye: "worse",
      conditions: [
        {
          id: "main",
          title: "To be written: the target condition",
          definition: "own",
          role: "confirmatory",
          target: {
            quantity: "M",
            relation: "<=",
            limit: -1,
            note: 'The condition at the exam; this number is only a place to start. In place of a limit on one variable: a published rule, { "published": "aapos-2013", "choices": { ... } }, or an own rule of several limits, { "kind": "rule", ... }; then the unit is the child.',
          },
          referWhen: {
            quantity: "M",
            relation: "<=",
            limit: -1,
            note: "The referral limit, fixed before the data are seen; a rule of the reading may stand here as well.",
          },
        },
      ],
      subgroups: [],
      unreadable: "refer",
      verification: "partial",
      sampling: "cohort",
      acceptableDifference: 0.5,
      level: 0.95,
      seed: 1,
      replicates: 2000,
      note: 'unreadable: how a child without a decision is counted (refer, pass, exclude). verification: complete, partial or none of the passes were examined; verificationStrata, such as { "by": "site" }, where they were drawn within groups. eye: right, left, both (unit eye), worse (unit child) or random, one eye a child drawn by the seed. outputs: html, markdown, word, pdf, by default all. sampling: "enriched" where cases are over-represented, as in a clinic. Write every choice down before the data are seen.',
    },
    "protocol.schema.json": protocolJsonSchema(),
  };
}

/** The names in the first line of a delimited text file, and whether its numbers have a decimal comma. */
async function startOf(path: string): Promise<{ header: string[]; comma: boolean }> {
  const file = await open(path).catch(() => null);
  if (file === null) throw new InputError(`draftStudy requires a readable file, got ${path}`);
  try {
    if (!(await file.stat()).isFile()) {
      throw new InputError(`draftStudy requires a readable file, got the folder ${path}`);
    }
    const { buffer, bytesRead } = await file.read(Buffer.alloc(65536), 0, 65536, 0);
    const text = buffer
      .subarray(0, bytesRead)
      .toString("utf8")
      .replace(/^\uFEFF/, "");
    if (text.includes("\0"))
      throw new InputError(
        `draftStudy requires delimited text, got a binary file ${path}; export it as CSV`,
      );
    const [line, ...rows] = text.split(/\r?\n/, 50);
    const delimiter = [",", ";", "\t"].reduce((most, one) =>
      line.split(one).length > line.split(most).length ? one : most,
    );
    const cells = line.split(delimiter);
    if (cells.length < 2)
      throw new InputError(
        `draftStudy requires a header with several columns, got "${line.slice(0, 60)}" in ${path}`,
      );
    const comma =
      delimiter !== "," &&
      rows.some((row) =>
        row.split(delimiter).some((cell) => /^"?[+-]?\d+,\d+"?$/.test(cell.trim())),
      );
    return { header: cells.map((cell) => cell.trim().replace(/^"|"$/g, "")), comma };
  } finally {
    await file.close();
  }
}

/** The words of a column's name in small letters: "RightSph" and "right_sph" are "right sph". */
function wordsOf(name: string): string {
  return name
    .replace(/([a-z])([A-Z0-9])/g, "$1 $2")
    .replace(/([A-Z])([A-Z][a-z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
    .join(" ");
}

function find(header: readonly string[], pattern: RegExp): string | undefined {
  return header.find((name) => pattern.test(wordsOf(name)));
}

/** The column of the subject in each file; its name may be written in two ways. */
function subjectColumns(readings: readonly string[], findings: readonly string[]) {
  const plain = (name: string) => wordsOf(name).replaceAll(" ", "");
  const twin = (name: string) =>
    findings.find((other) => other === name) ??
    findings.find((other) => plain(other) === plain(name));
  const shared = readings.filter((name) => twin(name) !== undefined);
  const subject = find(shared, /subject|study|child|\bid$/) ?? shared[0];
  if (subject === undefined) {
    throw new InputError(
      `draftStudy requires a column of one name in both files for the subject, got ${readings.join(", ")} and ${findings.join(", ")}; rename it in a copy of one file`,
    );
  }
  return { readings: subject, findings: twin(subject)! };
}

const ageColumn = /\bage\b/;

function ageUnit(...headers: readonly (readonly string[])[]): object {
  const age = find(headers.flat(), ageColumn);
  return age === undefined ? {} : { age: /month/.test(wordsOf(age)) ? "months" : "years" };
}

function ageAndSite(header: readonly string[]): object {
  const age = find(header, ageColumn);
  const site = find(header, /\b(site|school|clinic|centre|center)\b/);
  return { ...(age && { age }), ...(site && { site }) };
}

/**
 * Sphere, cylinder and axis: one measurement a row, or right and left in one row.
 *
 * @param whose columns of this file alone that say whose measurement it is
 */
function powerColumns(header: readonly string[], whose: object): object {
  const day = find(header, /\bday\b/);
  const row = { ...whose, ...(day && { day }) };
  const parts = (side: RegExp | null) => {
    const names = side === null ? header : header.filter((name) => side.test(wordsOf(name)));
    const sphere = find(names, /sph/);
    const cylinder = find(names, /cyl/);
    const axis = find(names, /ax(is)?$/);
    return sphere === undefined
      ? null
      : { sphere, ...(cylinder && { cylinder }), ...(axis && { axis }), ...row };
  };
  const right = parts(/^(r|od|right) /);
  const left = parts(/^(l|os|left) /);
  if (right !== null && left !== null) return { cylinder: "either", right, left };
  const eye = find(header, /^eye$|side|laterality/);
  const one = parts(null) ?? { sphere: "to be named", ...row };
  return { cylinder: "either", columns: { ...(eye && { eye }), ...one } };
}
