import { quantileSorted } from "simple-statistics";
import { sortNumbers } from "../../inference/index.js";
import {
  InputError,
  type TableModel,
  type Undefined,
  undefinedBecause,
} from "../../results/index.js";
import type { Cohort, Eye } from "../types.js";

/** How readings and findings met, by child; a child's first eye with both, right before left, counts. */
export interface PairingReport {
  readonly kind: "pairing-report";
  readonly children: number;
  /**
   * Children by the most attempted findings that one of their eyes has in the file, whether or not
   * one of them counts.
   */
  readonly findings: { readonly none: number; readonly one: number; readonly several: number };
  /** Children whose reading is linked with a finding. */
  readonly linked: number;
  /** Of the linked: exam before screening, only where no window of days forbids it. */
  readonly negativeInterval: number;
  /** Of the linked: no day of reading or finding. */
  readonly dayMissing: number;
  /** Days from reading to finding, of the linked with both days. */
  readonly delay:
    | {
        readonly kind: "delay";
        readonly n: number;
        readonly lowest: number;
        readonly firstQuartile: number;
        readonly median: number;
        readonly thirdQuartile: number;
        readonly highest: number;
      }
    | Undefined;
}

/**
 * How the two files met: findings of each child (none, one, several an eye), negative intervals, and
 * the delay in days. Quartiles interpolate linearly (type 7 of Hyndman and Fan 1996).
 *
 * @throws InputError for a child's finding that is none of the cohort's
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const [readings, findings] = [await readReadings([{ ...eye, day: 3 }]), await readFindings([{ ...eye, day: 10 }])];
 * pairingReport(linkCohort({ readings, findings })).delay.median // => 7
 */
export function pairingReport(cohort: Cohort): PairingReport {
  const { children } = cohort;
  const findings = childrenByFindings(cohort);
  const known = new Float64Array(children.n);
  let days = 0;
  let linked = 0;
  let negativeInterval = 0;
  for (let child = 0; child < children.n; child++) {
    const side = isLinked(cohort, child, "right") ? "right" : "left";
    if (side === "left" && !isLinked(cohort, child, "left")) continue;
    linked++;
    const delay = daysBetween(cohort, child, side);
    if (!Number.isNaN(delay)) known[days++] = delay;
    if (delay < 0) negativeInterval++;
  }
  const delays = sortNumbers(known.subarray(0, days));
  const at = (share: number) => quantileSorted(delays as never, share);
  return {
    kind: "pairing-report",
    children: children.n,
    findings,
    linked,
    negativeInterval,
    dayMissing: linked - delays.length,
    delay:
      delays.length === 0
        ? undefinedBecause("no child has the days of both reading and finding")
        : {
            kind: "delay",
            n: delays.length,
            lowest: delays[0],
            firstQuartile: at(0.25),
            median: at(0.5),
            thirdQuartile: at(0.75),
            highest: delays[delays.length - 1],
          },
  };
}

/**
 * The report as a table.
 *
 * @param report from `pairingReport`; counts are exact, so that small ones are suppressed by whoever
 *   passes the table on
 *
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: 4, cylinder: 0, axis: 180 };
 * const cohort = linkCohort({ readings: await readReadings([eye]), findings: await readFindings([eye]) });
 * pairingTable(pairingReport(cohort)).rows[0].cells // => ["In either file", 1]
 */
export function pairingTable(report: PairingReport): TableModel {
  const { findings, delay } = report;
  const count = (label: string, value: number) => ({
    cells: [label, value],
    format: "count" as const,
  });
  const days = (
    label: string,
    key: "lowest" | "firstQuartile" | "median" | "thirdQuartile" | "highest",
  ) => ({
    cells: [label, delay.kind === "undefined" ? delay : delay[key]],
    format: "number" as const,
  });
  return {
    kind: "table",
    title: "Readings and findings: how they met",
    columns: [
      { label: "", format: "text" },
      { label: "Children", format: "count" },
    ],
    rows: [
      count("In either file", report.children),
      count("  no finding", findings.none),
      count("  one finding an eye", findings.one),
      count("  several findings of one eye", findings.several),
      count("Reading linked with a finding", report.linked),
      count("  exam before screening", report.negativeInterval),
      count("  day missing", report.dayMissing),
      days("Days from reading to finding, shortest", "lowest"),
      days("  first quartile", "firstQuartile"),
      days("  median", "median"),
      days("  third quartile", "thirdQuartile"),
      days("  longest", "highest"),
    ],
    notes: ["Findings that were not attempted are none. Days by right eyes, else left ones."],
  };
}

/** Children by the most attempted findings that an eye of theirs has. */
function childrenByFindings(cohort: Cohort): PairingReport["findings"] {
  const { children, findings } = cohort;
  const childOfCode = childOfFindings(cohort);
  const byEye = [new Uint32Array(children.n), new Uint32Array(children.n)];
  const notAttempted = findings.status.labels.indexOf("not-attempted");
  for (let row = 0; row < findings.n; row++) {
    if (findings.status.codes[row] === notAttempted) continue;
    const child = childOfCode[findings.subject.codes[row]];
    if (child < 0) {
      throw new InputError("pairingReport requires a cohort that knows each finding, got another");
    }
    byEye[findings.eye.codes[row] === 0 ? 0 : 1][child]++;
  }
  // no finding, one, several
  const counts = [0, 0, 0];
  for (let child = 0; child < children.n; child++) {
    counts[Math.min(2, Math.max(byEye[0][child], byEye[1][child]))]++;
  }
  const [none, one, several] = counts;
  return { none, one, several };
}

const isLinked = ({ children }: Cohort, child: number, side: Eye): boolean =>
  children.readingRow[side][child] >= 0 && children.findingRow[side][child] >= 0;

/** The child of each subject of the findings; -1 where all rows of one were rejected, who is no child. */
function childOfFindings({ children, findings }: Cohort): Int32Array {
  const { codes, labels } = findings.subject;
  const childOf = new Int32Array(labels.length).fill(-1);
  for (const rows of [children.findingRow.right, children.findingRow.left]) {
    for (let child = 0; child < children.n; child++) {
      if (rows[child] >= 0) childOf[codes[rows[child]]] = child;
    }
  }
  // those without a finding that counts are few: only they are looked up by their words
  const others = new Map<string, number>();
  for (let code = 0; code < labels.length; code++) {
    if (childOf[code] < 0) others.set(labels[code], code);
  }
  for (let child = 0; others.size > 0 && child < children.n; child++) {
    const code = others.get(children.subject[child]);
    if (code !== undefined) childOf[code] = child;
  }
  return childOf;
}

function daysBetween({ readings, findings, children }: Cohort, child: number, side: Eye): number {
  const read = readings.day?.[children.readingRow[side][child]] ?? Number.NaN;
  const found = findings.day?.[children.findingRow[side][child]] ?? Number.NaN;
  return found - read;
}
