import type { RunOptions } from "../../results/index.js";
import { defineColumns } from "../defineColumns.js";
import { problemLog } from "../problemLog.js";
import { openSource, sourceName } from "../read/openSource.js";
import type { Source } from "../read/source.js";
import { identifierScan, type SuspectedIdentifier } from "./identifierScan.js";

export interface AuditOptions extends RunOptions {
  /** The column mapping; its subject column may hold codes. */
  readonly columns?: object;
  /** The subject column, where there is no mapping. */
  readonly subject?: string;
}

/** Columns and values of a file that look like identifiers. */
export interface IdentifierAudit {
  readonly kind: "identifier-audit";
  readonly file: string;
  readonly rowCount: number;
  readonly suspected: readonly SuspectedIdentifier[];
  readonly note: string;
}

export const auditNote =
  "A clean audit is no proof that a table is de-identified: it finds what looks like an identifier, " +
  "by the list of one law (45 CFR 164.514(b)(2), US); values that look harmless can still single " +
  "out a child.";

/**
 * Looks through every name and every cell of a table for what looks like a direct identifier: names,
 * addresses, postal codes, dates finer than a year, phone numbers, e-mail, record and account
 * numbers, device serial numbers, web and network addresses, ages over 89, free text, and codes that
 * are hardly ever repeated. Cells are counted, never shown.
 *
 * @example
 * (await auditIdentifiers([{ id: "a1", contact: "someone@example.org" }], { subject: "id" })).suspected[0].kind // => "e-mail"
 */
export async function auditIdentifiers(
  source: Source,
  options: AuditOptions = {},
): Promise<IdentifierAudit> {
  const mapping = options.columns === undefined ? null : defineColumns(options.columns);
  const log = problemLog(sourceName(source));
  const opened = await openSource(source, mapping?.text ?? {}, log, "auditIdentifiers");
  const scan = identifierScan(opened.header, mapping);
  const coded = new Set(opened.header.keys());
  let rows = 0;
  for await (const { table, done } of opened.tables({ numeric: new Map(), coded })) {
    options.signal?.throwIfAborted();
    scan.add(table);
    rows += table.n;
    options.onProgress?.({ stage: "looking for identifiers", done });
  }
  const subject = options.subject ?? mapping?.columns.subject ?? null;
  const suspected = scan.finish(subject, { uniqueCodes: true });
  return {
    kind: "identifier-audit",
    file: opened.file,
    rowCount: rows,
    suspected,
    note: auditNote,
  };
}
