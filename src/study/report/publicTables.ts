import {
  type CoarseCount,
  type CoarseRate,
  rateWords,
  type SmallCounts,
  totalOf,
} from "../../disclosure/index.js";
import type { CoarseProgrammeMeasure } from "../../programme/index.js";
import type { TableModel, TableRow } from "../../results/index.js";
import { percent, quantityText } from "../../rows/index.js";
import type { CoarseCurve } from "../coarse/coarseCurve.js";
import type { CoarseFlow } from "../coarse/coarseFlow.js";
import { coarseShareWith, coarseUndecided } from "../coarse/coarseUndecided.js";
import type { CoarseGroups } from "../coarse/coarseGroups.js";
import { type CoarseProgramme, strataWords } from "../coarse/coarseProgramme.js";
import type { CoarseCondition, CoarseCounts, CoarseStudy } from "../coarse/coarseStudy.js";
import type { Together } from "../coarse/together.js";
import { groupingWord } from "./groupingWord.js";
import { waysOfCounting } from "./reconciliation.js";
import { text } from "./tableParts.js";

/** Why children are in no row, in the flow's table and figure. */
export const leftOutWords = {
  before: "not eligible, no reading and no attempt, or in the exam file only",
  unexamined: "no exam that counts",
  undecided: "the reading decides nothing for the child",
} as const;

/** What stands where a cell is withheld. */
export const notShown = "not shown";

/** How counts read, below every table of them. */
export function coarseNote({ fewerThan, roundTo }: SmallCounts): string {
  return `Counts are coarse: ${coarseWords({ fewerThan, roundTo })}; a sum is the range that its parts allow.`;
}

/** Which small counts were counted together, and what their sums read: nothing where none were. */
export function togetherNotes({
  together: { rows, all },
  rule: { fewerThan },
}: Pick<CoarseStudy, "together" | "rule">): string[] {
  if (rows === null && all === null) return [];
  const small = (one: Together) => `the ${one.counts} counts of fewer than ${fewerThan}`;
  const said = [
    ...(rows === null ? [] : [`${small(rows)} among the rows: ${rows.sum.words}`]),
    ...(all === null ? [] : [`${small(all)} among the rows and those left out: ${all.sum.words}`]),
  ];
  return [
    `So that totals are no wider than they must be, small counts were also counted together (${said.join("; ")}), each of which can still be 0 to ${fewerThan - 1}; all rows and all children are sums of these and of the other counts.`,
  ];
}

/** How a single count reads. */
export function coarseWords({ fewerThan, roundTo }: SmallCounts): string {
  const first = Math.ceil(fewerThan / roundTo) * roundTo;
  return `0 to ${fewerThan - 1} reads "fewer than ${fewerThan}", any other the nearest multiple of ${roundTo}, at least ${first}`;
}

/** Children by how far they came. */
export function coarseFlowTable(flow: CoarseFlow, study: CoarseStudy): TableModel {
  const { protocol, rule } = study;
  const row = (label: string, count: CoarseCount): TableRow => ({ cells: [label, count.words] });
  return {
    kind: "table",
    title: "Participants",
    columns: [text("Step"), { label: "Children", format: "count" }],
    rows: [
      row("In either file", flow.all),
      row(`left out: ${leftOutWords.before}`, flow.before),
      ...(flow.unexamined === null
        ? []
        : [row(`left out: ${leftOutWords.unexamined}`, flow.unexamined)]),
      row(`left out: ${leftOutWords.undecided}`, flow.undecided),
      row(protocol.verification === "complete" ? "Compared" : "Screened", flow.compared),
    ],
    notes: [coarseNote(rule), ...togetherNotes(study)],
  };
}

/** With, without, all: of the referred, of those who passed, of both. */
export function coarseCounts({
  table,
  examined,
}: Pick<CoarseCounts, "table" | "examined">): readonly (readonly string[])[] {
  const { truePositive, falsePositive, falseNegative, trueNegative } = table;
  const line = (one: CoarseCount, other: CoarseCount, both = totalOf([one, other])) =>
    [one, other, both].map(({ words }) => words);
  return [
    line(truePositive, falsePositive),
    line(falseNegative, trueNegative),
    line(totalOf([truePositive, falseNegative]), totalOf([falsePositive, trueNegative]), examined),
  ];
}

const undecidedAsPassed = "were those without a decision counted as not referred";

/** The rates as ranges over what the coarse counts allow. */
export function coarseAccuracyTable(
  condition: CoarseCondition,
  { rates, bounds, curve }: CoarseCounts,
  study: Pick<CoarseStudy, "protocol" | "flow" | "conditions">,
): TableModel {
  const { title } = condition;
  const { level, verification, verificationStrata } = study.protocol;
  const undecided = coarseUndecided(condition, study);
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
      ...(rates.found === null || complete
        ? []
        : [
            {
              cells: [
                "With the condition per 1000 screened, if every referred were examined",
                rateWords(rates.found, 1000, ""),
              ],
            },
          ]),
      ...row(
        "With the condition, of those compared",
        coarseShareWith(condition, study.protocol)?.share ?? null,
      ),
      ...row(`Sensitivity, ${undecidedAsPassed}`, undecided?.sensitivity ?? null),
      ...row(`Specificity, ${undecidedAsPassed}`, undecided?.specificity ?? null),
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
      ...(complete || verificationStrata === undefined
        ? []
        : [`Corrected rates are not shown, as ${strataWords}.`]),
      ...(complete || verificationStrata !== undefined
        ? []
        : [
            "Right only if, within each group of decision and rule, being examined depended on nothing else.",
          ]),
    ],
  };
}

/** The share of differences within the acceptable one, in coarse counts; nothing where it is withheld. */
export function coarseShareTables({ agreement, protocol, rule }: CoarseStudy): TableModel[] {
  const { within } = agreement.find(({ quantity }) => quantity === "M")!;
  if (within === null) return [];
  const { count, rest, rate, roundTo } = within;
  const partly = protocol.verification === "complete" ? "" : ", among the examined";
  return [
    {
      kind: "table",
      title: `Differences within ±${quantityText(protocol.acceptableDifference)}, stated in advance${partly}`,
      columns: [
        text("Component"),
        { label: "Eyes within", format: "count" },
        { label: "Eyes beyond", format: "count" },
        { label: `Range (outermost ${percent(protocol.level)} limits)`, format: "percent" },
      ],
      rows: [{ cells: ["M", count.words, rest.words, rateWords(rate)] }],
      notes: [coarseNote({ ...rule, roundTo })],
    },
  ];
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
      text(groupingWord(by)),
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

type ShownProgramme = Extract<CoarseProgramme, { readonly kind: "coarse-programme" }>;

/** A programme's figures as ranges: of all children, then by group. */
export function coarseProgrammeTables(
  { title, measures, groupings, notShown: left }: ShownProgramme,
  { level }: CoarseStudy["protocol"],
  rule: SmallCounts,
): readonly TableModel[] {
  const columns = (first: string): TableModel["columns"] => [
    text(first),
    { label: "Children", format: "count" },
    { label: "Of", format: "count" },
    { label: `Range (outermost ${percent(level)} limits)`, format: "number" },
  ];
  const name = `The programme in figures: ${title}`;
  const whole: TableModel = {
    kind: "table",
    title: name,
    columns: columns("Figure"),
    rows: measures.map((measure) => measureRow(measure.words, measure)),
    notes: [
      coarseNote(rule),
      "A figure is the range that its coarse counts allow, rounded outwards; in brackets its interval's lowest and highest limit over that range.",
      ...left.map(({ reason, words }) => `Not shown, as ${reason}: ${words.join("; ")}.`),
      "Children count as independent; within one school they may not be.",
    ],
  };
  return [
    whole,
    ...groupings.map(({ by, groups }): TableModel => {
      const first = groups.map((one) => one.measures).find((own) => own.length > 0) ?? [];
      return {
        kind: "table",
        title: `${name}, by ${by}`,
        columns: columns(groupingWord(by)),
        rows: first.flatMap(({ id, words }): TableRow[] => [
          { cells: [words, null, null, null], heading: true },
          ...groups.map(({ group, measures: own }) => {
            const measure = own.find((one) => one.id === id);
            return measure === undefined
              ? { cells: [group, null, null, "not estimated"] }
              : measureRow(group, saysNothing(measure) ? { ...measure, rate: null } : measure);
          }),
        ]),
        notes: [
          first.length === 0
            ? "Nothing of it is shown by group: a small count of some group would follow from the others."
            : "A figure is shown of all groups or of none: one that is missing would narrow a small count of some group. No test over groups is given to the public.",
        ],
      };
    }),
  ];
}

/** A range from none to all. */
const saysNothing = ({ rate, unit }: CoarseProgrammeMeasure): boolean =>
  unit !== "number" && rate.from <= 0 && rate.to >= 1;

type Measured = Omit<CoarseProgrammeMeasure, "rate"> & { readonly rate: CoarseRate | null };

function measureRow(label: string, { counted, of, rate, unit }: Measured): TableRow {
  const [scale, ending] =
    unit === "share" ? [100, " %"] : unit === "per-1000" ? [1000, ""] : [1, ""];
  return {
    cells: [label, counted?.words ?? null, of?.words ?? null, rateWords(rate, scale, ending)],
  };
}
