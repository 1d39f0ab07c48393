import type { LimitsOfAgreement } from "../../agreement/index.js";
import type { TableCell, TableModel, TableRow } from "../../results/index.js";
import { percent, quantityText } from "../../rows/index.js";
import type { PublicAgreement } from "../coarse/publicAgreement.js";
import type { PublicLimits } from "../coarse/publicLimits.js";
import type { StudyResult } from "../run/studyResult.js";
import { coverageSentence, type DifferencesSeen } from "./intervalCoverage.js";
import { intervalInWords } from "./intervalInWords.js";
import { count, text } from "./tableParts.js";

/** Who was studied: the boxes of the flow that hold somebody, then the eyes compared. */
export function flowTable({ flow, protocol, conditions }: StudyResult): TableModel {
  const first = conditions[0]!;
  const paired = flow.boxes.find(({ id }) => id === "paired");
  const eyes = {
    right: "right eyes only",
    left: "left eyes only",
    both: "both eyes",
    worse: "the worse eye of a child with both eyes",
    random: "one eye a child, drawn",
  };
  const boxes = flow.boxes
    .filter(({ role, eyes, children }) => role !== "excluded" || eyes > 0 || children > 0)
    .map(
      ({ role, label, children, eyes }): TableRow => ({
        cells: [role === "excluded" ? `left out: ${label.toLowerCase()}` : label, children, eyes],
      }),
    );
  const compared = `Compared (${first.rules === null ? eyes[protocol.eye] : "children, by the rules"})`;
  const rows = protocol.unit === "child" ? null : first.n;
  return {
    kind: "table",
    title: "Participants",
    columns: [text("Step"), count("Children"), count("Eyes")],
    rows: [...boxes, { cells: [compared, first.children, rows] }],
    notes: [
      "A child stands where the eye that came furthest stands; every line is a count of rows, and parts add up to their whole.",
      ...(first.children > (paired?.children ?? first.children)
        ? [
            "Compared are more children than were paired: a reading beyond the instrument's range, or one that gave no number, has no difference but may have a referral.",
          ]
        : []),
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
      cells: [source, message, done[action] ?? action, count],
    })),
    notes: ["Kept values are used as they are written; nothing is repaired."],
  };
}

const done: { readonly [action: string]: string } = {
  kept: "kept",
  altered: "altered",
  "set-aside": "set aside",
  "row-rejected": "row left out",
};

/** Bias and limits of one component, from the result or as the public may see them. */
interface AgreementShown extends Pick<PublicAgreement, "quantity" | "mirrored" | "weighted"> {
  readonly limits: PublicLimits & Partial<Pick<LimitsOfAgreement, "withoutEndOfRange" | "slope">>;
}

interface Shown {
  readonly protocol: Pick<StudyResult["protocol"], "verification" | "clusters">;
  readonly agreement: readonly AgreementShown[];
}

/**
 * Bias and limits of every component, test minus reference.
 *
 * @param numbers of eyes of each component and of weighted M, where the reader may know them
 */
export function agreementTable(
  { agreement, protocol }: Shown,
  numbers: { readonly eyes: readonly number[]; readonly weighted: number | null } | null,
): TableModel {
  const notes = new Set(agreement.flatMap(({ limits }) => limits.notes));
  const first = agreement[0]!.limits;
  const partly = amongExamined(protocol);
  const counted = (cell: TableCell): TableCell[] => (numbers === null ? [] : [cell]);
  return {
    kind: "table",
    title: `Agreement, test minus reference${partly}`,
    columns: [
      text("Component"),
      ...(numbers === null ? [] : [count("Eyes")]),
      { label: "Bias", unit: "D", format: "dioptres" },
      { label: "SD", unit: "D", format: "dioptres" },
      { label: "Lower limit", unit: "D", format: "dioptres" },
      { label: "Upper limit", unit: "D", format: "dioptres" },
    ],
    rows: [
      ...agreement.flatMap(({ quantity, mirrored, limits }, at) => {
        const name = `${quantity}${mirrored ? " (left eyes mirrored)" : ""}`;
        const { bias, sd, lower, upper, percentile, withoutEndOfRange: without } = limits;
        const eyes = counted(numbers?.eyes[at] ?? null);
        const ends = (one: typeof percentile): TableCell[] =>
          one.kind === "undefined" ? [one, one] : [one.lower, one.upper];
        return [
          { cells: [`${name}: percentiles`, ...eyes, null, null, ...ends(percentile)] },
          { cells: [`${name}: bias ± SDs, if normal`, ...eyes, bias, sd, lower, upper] },
          ...(without === undefined || without.kind === "undefined"
            ? []
            : [
                {
                  cells: [
                    `${name}: percentiles, without readings at an end of the range`,
                    ...counted(null),
                    null,
                    null,
                    ...ends(without.percentile),
                  ],
                },
                {
                  cells: [
                    `${name}: if normal, without readings at an end of the range`,
                    ...counted(null),
                    without.bias,
                    without.sd,
                    without.lower,
                    without.upper,
                  ],
                },
              ]),
        ];
      }),
      ...agreement.flatMap(({ quantity, weighted }) =>
        weighted === null
          ? []
          : [
              {
                cells: [
                  `${quantity}, weighted for who was examined`,
                  ...counted(numbers?.weighted ?? null),
                  ...("reason" in weighted
                    ? [weighted, weighted, weighted, weighted]
                    : [weighted.bias, weighted.sd, weighted.lower, weighted.upper]),
                ],
              },
            ],
      ),
    ],
    notes: [
      `Percentiles: ${percent((1 - first.coverage) / 2)} and ${percent((1 + first.coverage) / 2)} of the differences, whatever their shape; intervals by order statistics, which count children. ${first.leads === "percentile" ? "They" : "Bias ± SDs"} lead in sentences, as the protocol fixed before the data were seen.`,
      `Limits of agreement if the differences are normal: bias ± ${first.multiplier.toFixed(2)} SD.`,
      ...slopesNote(agreement),
      ...heldOften(agreement[0]!.limits),
      ...(partly === ""
        ? []
        : [
            `Among the examined, who were chosen in part by the reading: an instrument without bias then seems to have one. Weighted: eyes of children examined because the first condition's referral sent them, or drawn, stand for the unexamined of the same result, which is right only if being examined depended on nothing else; weights are estimated anew ${protocol.clusters === "site" ? "without each site" : "in each resample of children"}.`,
          ]),
      ...notes,
    ],
  };
}

/** Slopes on the mean, whatever they are, as level limits follow none; not for the public. */
function slopesNote(agreement: Shown["agreement"]): string[] {
  const slopes = agreement.flatMap(({ quantity, limits: { slope } }) =>
    slope === undefined ? [] : [`${quantity} ${intervalInWords(slope, "", 1)}`],
  );
  return slopes.length === 0
    ? []
    : [
        `The difference changes with the mean of reading and exam by so many dioptres a dioptre, which level limits do not follow: ${slopes.join(", ")}.`,
      ];
}

/** How often intervals held on differences of the shape and number of the first component (M). */
function heldOften(limits: LimitsOfAgreement | PublicLimits): string[] {
  const sentence = coverageSentence(
    limits.conditional.kind === "undefined"
      ? ["bias", "percentile", "normal"]
      : ["bias", "percentile", "normal", "conditional", "bent"],
    differencesSeen(limits),
  );
  return sentence === "" ? [] : [`M. ${sentence}`];
}

/** Of a public report's differences neither shape nor number is told. */
function differencesSeen(limits: LimitsOfAgreement | PublicLimits): DifferencesSeen {
  if (!("subjects" in limits)) return {};
  const { subjects, n, sites, skewness, excessKurtosis } = limits;
  return {
    ...(skewness === undefined ? {} : { skewness }),
    ...(excessKurtosis === undefined ? {} : { excessKurtosis }),
    children: subjects,
    eyesOfChild: sites !== undefined ? "sites" : n > subjects ? "two eyes" : "one eye",
  };
}

/** The numbers of eyes of the agreement, as a journal sees them. */
export function eyesCounted({
  agreement,
}: StudyResult): NonNullable<Parameters<typeof agreementTable>[1]> {
  const weighted = agreement.find((one) => one.weighted !== null)?.weighted ?? null;
  return {
    eyes: agreement.map(({ limits }) => limits.n),
    weighted: weighted === null || "reason" in weighted ? null : weighted.n,
  };
}

/** The share of differences within the acceptable difference stated in advance. */
export function acceptableTable({ agreement, protocol }: StudyResult): TableModel {
  return {
    kind: "table",
    title: `Differences within ±${quantityText(protocol.acceptableDifference)}, stated in advance`,
    columns: [text("Component"), count("Eyes"), { label: "Share within", format: "percent" }],
    rows: agreement.flatMap(({ quantity, limits: { n }, withinAcceptable }) =>
      withinAcceptable === null ? [] : { cells: [quantity, n, withinAcceptable] },
    ),
    notes: [],
  };
}

function amongExamined({ verification }: Shown["protocol"]): string {
  return verification === "complete" ? "" : ", among the examined";
}

/** Conditional limits of M: a table where there are any, else nothing (the methods say why). */
export function conditionalTables({ agreement, protocol }: Shown): TableModel[] {
  const { limits } = agreement.find(({ quantity }) => quantity === "M")!;
  const { conditional } = limits;
  if (conditional.kind === "undefined") return [];
  const dioptres = (label: string) => ({ label, unit: "D", format: "dioptres" }) as const;
  return [
    {
      kind: "table",
      title: `Limits of M that change with the refraction${amongExamined(protocol)}`,
      columns: [
        dioptres("Mean of reading and exam"),
        dioptres("Bias"),
        dioptres("Lower limit"),
        dioptres("Upper limit"),
      ],
      rows: conditional.points.map(({ at, bias, lower, upper }) => ({
        cells: [at, bias, lower, upper],
      })),
      notes: [
        "Right if mean and spread are linear in the refraction: linear bias, linear mean absolute residual, percentiles of the residuals over that spread. Intervals: order statistics of those residuals and the errors of both lines; each at the level printed with it.",
      ],
    },
  ];
}
