import { whileSame } from "../../platform/index.js";
import { InputError } from "../../results/index.js";
import type { ColumnMapping } from "../columnMapping.js";
import { defineColumns } from "../defineColumns.js";
import {
  type ColumnCount,
  problemsByColumn,
  problemsByRule,
  type RuleCount,
} from "../problemLog.js";
import type { ReadOptions } from "../read/readBlocks.js";
import { readFindings } from "../read/readFindings.js";
import { readReadings } from "../read/readReadings.js";
import type { Source } from "../read/source.js";
import type { Findings, Problem, Readings } from "../types.js";
import { auditIdentifiers, auditNote } from "./auditIdentifiers.js";
import type { SuspectedIdentifier } from "./identifierScan.js";
import { type LoudFault, loudFaults } from "./loudFaults.js";

/** What one kind of measurement in a file came to. */
export interface AuditedPart {
  readonly kind: "readings" | "findings";
  /** Measurements of an eye. */
  readonly n: number;
  readonly problems: readonly Problem[];
  readonly byRule: readonly RuleCount[];
  /** The same by column, with the share of the measurements and the first three places. */
  readonly byColumn: readonly ColumnCount[];
  /** What breaks so much that the mapping is probably wrong. */
  readonly faults: readonly LoudFault[];
}

/** What one file needs decisions about: identifiers and problems. */
export interface FileAudit {
  readonly kind: "file-audit";
  readonly file: string;
  readonly rowCount: number;
  readonly identifiers: readonly SuspectedIdentifier[];
  /** Empty where there is no mapping: only identifiers were looked for. */
  readonly parts: readonly AuditedPart[];
  /** Cells set aside, altered, and rows rejected. */
  readonly setAside: number;
  readonly note: string;
}

/**
 * Everything that a file needs decisions about: what looks like an identifier, and the problems of
 * its readings and of its findings with counts by rule. Where readings and findings are two files with
 * one mapping, `only` says which of them this file is.
 *
 * @throws when the mapping of readings or findings that is asked for is not given
 *
 * @example
 * (await auditFile([{ subject: "a", eye: "OD", sphere: "?", cylinder: 0, axis: 0 }], { columns: {
 *   kind: "columns", version: 1, columns: { subject: "subject", eye: "eye" },
 *   readings: [{ columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } }],
 * } })).setAside // => 1
 */
export async function auditFile(
  source: Source,
  options: ReadOptions & { readonly only?: "readings" | "findings" } = {},
): Promise<FileAudit> {
  // it is read up to three times
  return whileSame("auditFile", typeof source === "string" ? [source] : [], () =>
    auditUnchanged(source, options),
  );
}

async function auditUnchanged(
  source: Source,
  options: ReadOptions & { readonly only?: "readings" | "findings" },
): Promise<FileAudit> {
  const { columns, only } = options;
  const identifiers = await auditIdentifiers(source, options);
  const allowIdentifiers = identifiers.suspected.map(({ column }) => column);
  const mapping = columns === undefined ? null : defineColumns(columns);
  if (only !== undefined && mapping?.[only] === undefined) {
    const other = only === "readings" ? "findings" : "readings";
    throw new InputError(
      `auditFile requires a mapping of ${only}, got one of ${other} alone; ask for these, or add "${only}" to the mapping`,
    );
  }
  const parts: AuditedPart[] = [];
  if (mapping?.readings !== undefined && only !== "findings") {
    parts.push(auditedPart(await readReadings(source, { ...options, allowIdentifiers }), mapping));
  }
  if (mapping?.findings !== undefined && only !== "readings") {
    parts.push(auditedPart(await readFindings(source, { ...options, allowIdentifiers }), mapping));
  }
  const setAside = parts
    .flatMap(({ problems }) => problems)
    // what the mapping itself asked for needs no decision
    .filter(({ action, rule }) => action !== "kept" && rule !== "working-distance-removed").length;
  return {
    kind: "file-audit",
    file: identifiers.file,
    rowCount: identifiers.rowCount,
    identifiers: identifiers.suspected,
    parts,
    setAside,
    note: auditNote,
  };
}

function auditedPart(data: Readings | Findings, mapping: ColumnMapping): AuditedPart {
  const { kind, n, problems } = data;
  return {
    kind,
    n,
    problems,
    byRule: problemsByRule(problems).rules,
    byColumn: problemsByColumn(problems, n),
    faults: loudFaults(data, problems, mapping),
  };
}
