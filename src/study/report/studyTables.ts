import type { FlowBox } from "../../cohort/index.js";
import { flowSteps, hasSmallCell, isSmallCount, type LeftOut } from "../../privacy/index.js";
import { methodName, type TableCell, type TableModel, type TableRow } from "../../results/index.js";
import { percent, quantityText } from "../../rows/index.js";
import type { StudyResult } from "../run/studyResult.js";
import { shownTotals } from "./shownTotals.js";
import { count, text } from "./tableParts.js";

/**
 * Who was studied: the boxes of the flow that hold somebody, then the eyes compared. For the public the
 * boxes are those of the figure, since the parts of a box give back what is taken out of one of them.
 */
export function flowTable(result: StudyResult): TableModel {
  const { flow, protocol, conditions } = result;
  const isPublic = protocol.audience === "public";
  const first = conditions[0];
  const compared = {
    children: first?.children ?? 0,
    eyes: protocol.unit === "child" ? null : (first?.n ?? 0),
  };
  const isNear = (box: { readonly children: number; readonly eyes: number }): boolean =>
    isSmallCount(Math.abs(box.children - compared.children)) ||
    (compared.eyes !== null && isSmallCount(Math.abs(box.eyes - compared.eyes)));
  const boxes = isPublic ? flowSteps(flow, "public") : [];
  const counted = first !== undefined && !hasSmallCell(first.table);
  // the table of counts says how many were compared: boxes that differ by few from it stay out
  const near = counted ? boxes.findIndex(isNear) : -1;
  const steps = near < 0 ? boxes : boxes.slice(0, near);
  const rows: TableRow[] = isPublic
    ? steps.flatMap(({ excluded, ...box }) => [boxRow(box), ...excluded.map(leftOutRow)])
    : flow.boxes
        .filter(({ role, eyes, children }) => role !== "excluded" || eyes > 0 || children > 0)
        .map((box) =>
          box.role === "excluded" ? leftOutRow({ ...box, labels: [box.label] }) : boxRow(box),
        );
  const paired = flow.boxes.find(({ id }) => id === "paired");
  if (first !== undefined) {
    const eyes = {
      right: "right eyes only",
      left: "left eyes only",
      both: "both eyes",
      worse: "the worse eye of a child with both eyes",
      random: "one eye a child, drawn",
    };
    const isSmallItself = isSmallCount(compared.children) || isSmallCount(compared.eyes ?? 0);
    const isShown = !isPublic || !(isSmallItself || steps.some(isNear));
    rows.push({
      cells: [
        `Compared (${first.rules === null ? eyes[protocol.eye] : "children, by the rules"})`,
        isShown ? compared.children : hidden,
        isShown || compared.eyes === null ? compared.eyes : hidden,
      ],
    });
  }
  return {
    kind: "table",
    title: "Participants",
    columns: [text("Step"), count("Children"), count("Eyes")],
    rows,
    notes: [
      "A child stands where the eye that came furthest stands; every line is a count of rows, and parts add up to their whole.",
      ...(first !== undefined && first.children > (paired?.children ?? first.children)
        ? [
            "Compared are more children than were paired: a reading beyond the instrument's range, or one that gave no number, has no difference but may have a referral.",
          ]
        : []),
    ],
  };
}

function boxRow({ label, children, eyes }: Pick<FlowBox, "label" | "children" | "eyes">): TableRow {
  return { cells: [label, children, eyes] };
}

function leftOutRow({ labels, children, eyes }: LeftOut): TableRow {
  return boxRow({ label: `left out: ${labels.join("; ").toLowerCase()}`, children, eyes });
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

/** Bias and limits of every component, test minus reference. */
export function agreementTable(result: StudyResult): TableModel {
  const { protocol } = result;
  const notes = new Set(result.agreement.flatMap(({ limits }) => limits.notes));
  const first = result.agreement[0].limits;
  const eyes = eyesOf(result);
  return {
    kind: "table",
    title: `Agreement, test minus reference${partly(result)}`,
    columns: [
      text("Component"),
      count("Eyes"),
      { label: "Bias", unit: "D", format: "dioptres" },
      { label: "SD", unit: "D", format: "dioptres" },
      { label: "Lower limit", unit: "D", format: "dioptres" },
      { label: "Upper limit", unit: "D", format: "dioptres" },
    ],
    rows: [
      ...result.agreement.flatMap(({ quantity, mirrored, limits }, at) => {
        const name = `${quantity}${mirrored ? " (left eyes mirrored)" : ""}`;
        const { bias, sd, lower, upper, percentile, withoutEndOfRange: without } = limits;
        const ends = (one: typeof percentile): TableCell[] =>
          one.kind === "undefined" ? [one, one] : [one.lower, one.upper];
        return [
          { cells: [`${name}: percentiles`, eyes[at], null, null, ...ends(percentile)] },
          { cells: [`${name}: bias ± SDs, if normal`, eyes[at], bias, sd, lower, upper] },
          ...(without === undefined || without.kind === "undefined"
            ? []
            : [
                {
                  cells: [
                    `${name}: percentiles, without readings at an end of the range`,
                    null,
                    null,
                    null,
                    ...ends(without.percentile),
                  ],
                },
                {
                  cells: [
                    `${name}: if normal, without readings at an end of the range`,
                    null,
                    without.bias,
                    without.sd,
                    without.lower,
                    without.upper,
                  ],
                },
              ]),
        ];
      }),
      ...result.agreement.flatMap(({ quantity, limits, weighted }) =>
        weighted === null
          ? []
          : [
              {
                cells: [
                  `${quantity}, weighted for who was examined`,
                  ...(weighted.kind === "undefined"
                    ? [null, weighted, weighted, weighted, weighted]
                    : [
                        protocol.audience === "public" && isSmallCount(limits.n - weighted.n)
                          ? hidden
                          : weighted.n,
                        weighted.bias,
                        weighted.sd,
                        weighted.lower,
                        weighted.upper,
                      ]),
                ],
              },
            ],
      ),
    ],
    notes: [
      `Percentiles: ${percent((1 - first.coverage) / 2)} and ${percent((1 + first.coverage) / 2)} of the differences, whatever their shape; intervals by order statistics, which count children. ${first.leads === "percentile" ? "They" : "Bias ± SDs"} lead in sentences, as the protocol fixed before the data were seen.`,
      `Limits of agreement if the differences are normal: bias ± ${first.multiplier.toFixed(2)} SD; in brackets the ${percent(first.level)} interval of each number (${methodName(first.interval)} for the limits).`,
      ...(partly(result) === ""
        ? []
        : [
            "Among the examined, who were chosen in part by the reading: an instrument without bias then seems to have one. Weighted: eyes of children examined because the first condition's referral sent them, or drawn, stand for the unexamined of the same result, which is right only if being examined depended on nothing else; weights are estimated anew in each resample of children.",
          ]),
      ...notes,
    ],
  };
}

/** The share of differences within the acceptable difference stated in advance. */
export function acceptableTable(result: StudyResult): TableModel {
  const { acceptableDifference, audience } = result.protocol;
  const eyes = eyesOf(result);
  return {
    kind: "table",
    title: `Differences within ±${quantityText(acceptableDifference)}, stated in advance`,
    columns: [text("Component"), count("Eyes"), { label: "Share within", format: "percent" }],
    rows: result.agreement.flatMap(({ quantity, limits: { n }, withinAcceptable }, at) => {
      if (withinAcceptable === null) return [];
      const within =
        withinAcceptable.kind === "estimate" ? Math.round(n * withinAcceptable.value) : 0;
      const givesBack = isSmallCount(n) || isSmallCount(within) || isSmallCount(n - within);
      return {
        cells: [quantity, eyes[at], audience === "public" && givesBack ? hidden : withinAcceptable],
      };
    }),
    notes: [],
  };
}

/** How many eyes each component has, as far as the reader sees it. */
function eyesOf(result: StudyResult): readonly TableCell[] {
  const shown = shownTotals(result).agreement;
  return result.agreement.map(({ limits }, at) => (shown[at] ? limits.n : hidden));
}

export const hidden = {
  kind: "suppressed",
  reason: "alone or with another number it would give back a count below 11",
} as const;

function partly({ protocol }: StudyResult): string {
  return protocol.verification === "complete" ? "" : ", among the examined";
}

/** Conditional limits of M: a table where there are any, else nothing (the methods say why). */
export function conditionalTables(result: StudyResult): TableModel[] {
  const { limits } = result.agreement.find(({ quantity }) => quantity === "M")!;
  const { conditional } = limits;
  if (conditional.kind === "undefined") return [];
  const dioptres = (label: string) => ({ label, unit: "D", format: "dioptres" }) as const;
  return [
    {
      kind: "table",
      title: `Limits of M that change with the refraction${partly(result)}`,
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
        "Right if mean and spread are linear in the refraction: linear bias, linear mean absolute residual, percentiles of the residuals over that spread; bootstrap of children.",
      ],
    },
  ];
}
