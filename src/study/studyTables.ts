import type { TableModel, TableRow } from "../results/index.js";
import type { ConditionResult, StudyResult } from "./studyResult.js";

const text = (label: string) => ({ label, format: "text" }) as const;
const count = (label: string) => ({ label, format: "count" }) as const;

/** Who was studied: the boxes of the flow that hold somebody, then the eyes compared. */
export function flowTable(result: StudyResult): TableModel {
  const { flow, protocol, conditions } = result;
  const depth = new Map<string, number>();
  for (const { id, partOf } of flow.boxes) {
    depth.set(id, partOf === null ? 0 : (depth.get(partOf) ?? 0) + 1);
  }
  const rows: TableRow[] = flow.boxes
    .filter(({ role, eyes, children }) => role !== "excluded" || eyes > 0 || children > 0)
    .map(({ label, role, children, eyes }) => ({
      cells: [role === "excluded" ? `left out: ${label.toLowerCase()}` : label, children, eyes],
    }));
  const first = conditions[0];
  if (first !== undefined) {
    const eyes = {
      right: "right eyes only",
      left: "left eyes only",
      both: "both eyes",
      worse: "the worse eye of a child with both eyes",
    };
    rows.push({ cells: [`Compared (${eyes[protocol.eye]})`, first.children, first.n] });
  }
  return {
    kind: "table",
    title: "Participants",
    columns: [text("Step"), count("Children"), count("Eyes")],
    rows,
    notes: [
      "A child stands where the eye that came furthest stands; every box is a count of rows, and parts add up to their whole.",
    ],
  };
}

/** Cells that needed a decision, as counts by rule; the cells themselves stay with the data. */
export function problemsTable(result: StudyResult): TableModel {
  return {
    kind: "table",
    title: "Cells that needed a decision",
    columns: [text("File"), text("Rule"), text("What was done"), count("Cells")],
    rows: result.problems.map(({ source, message, action, count }) => ({
      cells: [source, message, action, count],
    })),
    notes: ["Kept values are used as they are written; nothing is repaired."],
  };
}

/** Bias and limits of every component, test minus reference. */
export function agreementTable(result: StudyResult): TableModel {
  const notes = new Set(result.agreement.flatMap(({ limits }) => limits.notes));
  const first = result.agreement[0].limits;
  return {
    kind: "table",
    title: "Agreement, test minus reference",
    columns: [
      text("Component"),
      count("Eyes"),
      { label: "Bias", unit: "D", format: "dioptres" },
      { label: "SD", unit: "D", format: "dioptres" },
      { label: "Lower limit", unit: "D", format: "dioptres" },
      { label: "Upper limit", unit: "D", format: "dioptres" },
    ],
    rows: result.agreement.map(({ quantity, limits }) => ({
      cells: [quantity, limits.n, limits.bias, limits.sd, limits.lower, limits.upper],
    })),
    notes: [
      `Limits of agreement: bias ± ${first.multiplier.toFixed(2)} SD; in brackets the ${percent(first.level)} interval of each number (${first.interval} for the limits).`,
      ...notes,
    ],
  };
}

/** The share of differences within the acceptable difference stated in advance. */
export function acceptableTable(result: StudyResult): TableModel {
  const { acceptableDifference } = result.protocol;
  return {
    kind: "table",
    title: `Differences within ±${acceptableDifference.toFixed(2)} D, stated in advance`,
    columns: [text("Component"), count("Eyes"), { label: "Share within", format: "percent" }],
    rows: result.agreement
      .filter(({ withinAcceptable }) => withinAcceptable !== null)
      .map(({ quantity, limits, withinAcceptable }) => ({
        cells: [quantity, limits.n, withinAcceptable],
      })),
    notes: [],
  };
}

/** The four counts behind every rate. */
export function countsTable(condition: ConditionResult): TableModel {
  const { truePositive, falsePositive, falseNegative, trueNegative } = condition.table;
  return {
    kind: "table",
    title: `Counts: ${condition.title}`,
    columns: [
      text("Reading"),
      count(`With (${condition.target} at the exam)`),
      count("Without"),
      count("All"),
    ],
    rows: [
      {
        cells: [
          `Referred (${condition.referWhen})`,
          truePositive,
          falsePositive,
          truePositive + falsePositive,
        ],
      },
      { cells: ["Passed", falseNegative, trueNegative, falseNegative + trueNegative] },
      { cells: ["All", truePositive + falseNegative, falsePositive + trueNegative, condition.n] },
    ],
    notes: [],
  };
}

/** The ten measures and the area, each with its interval or the reason why there is none. */
export function accuracyTable(condition: ConditionResult): TableModel {
  const { accuracy, area } = condition;
  const share = (label: string, cell: TableRow["cells"][number]): TableRow => ({
    cells: [label, cell],
  });
  const ratio = (label: string, cell: TableRow["cells"][number]): TableRow => ({
    cells: [label, cell],
    format: "ratio",
  });
  return {
    kind: "table",
    title: `Accuracy: ${condition.title}`,
    columns: [
      text("Measure"),
      { label: `Estimate (${percent(accuracy.level)} interval)`, format: "percent" },
    ],
    rows: [
      share("Sensitivity", accuracy.sensitivity),
      share("Specificity", accuracy.specificity),
      share("Positive predictive value", accuracy.positivePredictiveValue),
      share("Negative predictive value", accuracy.negativePredictiveValue),
      ratio("Positive likelihood ratio", accuracy.positiveLikelihoodRatio),
      ratio("Negative likelihood ratio", accuracy.negativeLikelihoodRatio),
      ratio("Diagnostic odds ratio", accuracy.diagnosticOddsRatio),
      { cells: ["Youden index", accuracy.youdenIndex], format: "proportion" },
      share("Prevalence in the sample", accuracy.prevalence),
      share("Referral rate in the sample", accuracy.referralRate),
      { cells: ["Area under the ROC curve", area], format: "proportion" },
    ],
    notes: [
      `Intervals of proportions: ${accuracy.method}.`,
      ...accuracy.notes,
      ...(condition.caution === null ? [] : [condition.caution]),
    ],
  };
}

function percent(level: number): string {
  return `${Number((level * 100).toPrecision(4))} %`;
}
