import {
  type CoarseCount,
  type CoarseRate,
  rateWords,
  type SmallCounts,
  totalOf,
} from "../../disclosure/index.js";
import type { TableModel, TableRow } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import type { CoarseTable } from "../coarse/coarseCondition.js";
import type { CoarseCurve } from "../coarse/coarseCurve.js";
import type { CoarseFlow } from "../coarse/coarseFlow.js";
import type { CoarseGroups } from "../coarse/coarseGroups.js";
import type { CoarseCondition, CoarseCounts, CoarseStudy } from "../coarse/coarseStudy.js";
import { waysOfCounting } from "./reconciliation.js";
import { text } from "./tableParts.js";

/** What stands where a cell is withheld. */
export const notShown = "not shown";

/** How counts read, below every table of them. */
export function coarseNote({ fewerThan, roundTo }: SmallCounts): string {
  const first = Math.ceil(fewerThan / roundTo) * roundTo;
  return `Counts are coarse: 0 to ${fewerThan - 1} reads "fewer than ${fewerThan}", any other the nearest multiple of ${roundTo}, at least ${first}; a sum is the range that its parts allow.`;
}

/** Children by how far they came. */
export function coarseFlowTable(flow: CoarseFlow, { protocol, rule }: CoarseStudy): TableModel {
  const row = (label: string, count: CoarseCount): TableRow => ({ cells: [label, count.words] });
  return {
    kind: "table",
    title: "Participants",
    columns: [text("Step"), { label: "Children", format: "count" }],
    rows: [
      row("In either file", flow.all),
      row("left out: not eligible, or no reading and no attempt", flow.before),
      ...(flow.unexamined === null ? [] : [row("left out: no exam that counts", flow.unexamined)]),
      row("left out: no decision for the child", flow.undecided),
      row(protocol.verification === "complete" ? "Compared" : "Screened", flow.compared),
    ],
    notes: [coarseNote(rule)],
  };
}

/** With, without, all: of the referred, of those who passed, of both. */
export function coarseCounts(table: CoarseTable): readonly (readonly string[])[] {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  return [
    [truePositive, falsePositive],
    [falseNegative, trueNegative],
    [totalOf([truePositive, falseNegative]), totalOf([falsePositive, trueNegative])],
  ].map((pair) => [...pair, totalOf(pair)].map(({ words }) => words));
}

/** The rates as ranges over what the coarse counts allow. */
export function coarseAccuracyTable(
  { title, caution }: CoarseCondition,
  { rates, bounds, curve }: CoarseCounts,
  { level, verification }: CoarseStudy["protocol"],
): TableModel {
  const complete = verification === "complete";
  const row = (label: string, rate: CoarseRate | null): TableRow[] =>
    rate === null ? [] : [{ cells: [label, rateWords(rate)] }];
  return {
    kind: "table",
    title: `Accuracy${complete ? "" : `, ${waysOfCounting.corrected}`}: ${title}`,
    columns: [
      text("Measure"),
      { label: `Range (outermost ${percent(level)} limits)`, format: "percent" },
    ],
    rows: [
      ...row("Sensitivity", rates.sensitivity),
      ...row("Specificity", rates.specificity),
      ...row("Positive predictive value", rates.positivePredictiveValue),
      ...row("Negative predictive value", rates.negativePredictiveValue),
      ...row(`Prevalence ${complete ? "in the sample" : "among the screened"}`, rates.prevalence),
      ...(rates.found === null
        ? []
        : [
            {
              cells: [
                "With the condition per 1,000 screened, if every referred were examined",
                rateWords(rates.found, 1000, ""),
              ],
            },
          ]),
      ...row(`Sensitivity, ${waysOfCounting.bounds}`, bounds?.sensitivity ?? null),
      ...row(`Specificity, ${waysOfCounting.bounds}`, bounds?.specificity ?? null),
      ...(curve?.area.kind === "estimate"
        ? [
            {
              cells: [
                "Area under the ROC curve, in its coarse stops",
                `${curve.area.value.toFixed(2)} (${curve.area.low.toFixed(2)} to ${curve.area.high.toFixed(2)})`,
              ],
            },
          ]
        : []),
    ],
    notes: [
      "A rate is the range that its coarse counts allow, in whole percent, rounded outwards; in brackets its interval's lowest and highest limit over that range.",
      ...(complete
        ? []
        : [
            "Right only if, within each group of decision and rule, being examined depended on nothing else.",
          ]),
      ...(caution === null ? [] : [caution]),
    ],
  };
}

/** The stops of the curve, from the strictest to the most lenient. */
export function coarseStopsTable(title: string, { stops }: CoarseCurve): TableModel {
  return {
    kind: "table",
    title: `Other limits: ${title}`,
    columns: [
      text("Referred at"),
      ...["Referred, with", "Referred, without", "Passed, with", "Passed, without"].map(
        (label) => ({ label, format: "count" }) as const,
      ),
    ],
    rows: stops.map(({ words, prespecified, referred, passed }) => ({
      cells: [
        `${words}${prespecified ? " (fixed in advance)" : ""}`,
        ...[referred.with, referred.without, passed.with, passed.without].map(
          (count) => count.words,
        ),
      ],
    })),
    notes: [
      "Stops lie so far apart that at least 11 with and 11 without the condition lie between any two. Away from the limit fixed in advance they are exploratory, chosen by looking, not corrected.",
    ],
  };
}

/** The 2x2 tables of groups; a class of cells that would be narrowed is withheld for all of them. */
export function coarseGroupsTable(title: string, grouping: CoarseGroups): TableModel {
  const { by, role, groups, homogeneity } = grouping;
  const withRates = groups.some(({ sensitivity, specificity }) => sensitivity || specificity);
  const p = (name: "sensitivity" | "specificity") => {
    const found = homogeneity[name];
    return `${name}: ${found === null ? "no test for the public" : `p = ${found}`}`;
  };
  return {
    kind: "table",
    title: `By ${by} (${role}): ${title}`,
    columns: [
      text(by === "age" ? "Age" : "Site"),
      ...["Referred, with", "Referred, without", "Passed, with", "Passed, without"].map(
        (label) => ({ label, format: "count" }) as const,
      ),
      ...(withRates
        ? ["Sensitivity", "Specificity"].map((label) => ({ label, format: "percent" }) as const)
        : []),
    ],
    rows: groups.map(({ group, cells, sensitivity, specificity }) => ({
      cells: [
        group,
        ...[cells.truePositive, cells.falsePositive, cells.falseNegative, cells.trueNegative].map(
          (count) => count?.words ?? notShown,
        ),
        ...(withRates
          ? [sensitivity, specificity].map((rate) => (rate === null ? notShown : rateWords(rate)))
          : []),
      ],
    })),
    notes: [
      `A column in which a count of some group would follow from the others is not shown for any. ${
        withRates
          ? `Whether all groups share one rate, from coarse counts: ${p("sensitivity")}; ${p("specificity")}.`
          : "Counts of the examined; rates of groups, corrected for who was examined, are not for the public."
      }`,
    ],
  };
}
