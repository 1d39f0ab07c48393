import type { Bounds } from "../../accuracy/index.js";
import type { TableCell, TableModel, TableRow, Undefined } from "../../results/index.js";
import { meets } from "../../rows/index.js";
import { percentText } from "../../tables/index.js";
import { referralLimit } from "../run/referralLimit.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { text } from "./tableParts.js";

/** The names of the ways to count one rate; every table, figure and sentence uses these. */
export const waysOfCounting = {
  examined: "as examined",
  corrected: "corrected for who was examined",
  bounds: "bounds",
  curve: "as examined, on the curve",
} as const;

/** What a corrected rate is, where one is named for the first time. */
export const correctedMeans = (row: "child" | "eye"): string =>
  `${waysOfCounting.corrected.replace(/^./, (first) => first.toUpperCase())} means that each examined ${row} stands for unexamined ones of the same decision of the programme.`;

/** How those without a decision by the reading are counted. */
export const undecidableWords = { refer: "referred", pass: "passed", exclude: "left out" } as const;

/**
 * Every way in which sensitivity and specificity of one condition can be counted, side by side: who is
 * in, who is out, and why they differ. Null where everybody was examined.
 */
export function reconciliationTable(
  condition: ConditionResult,
  { protocol }: Pick<StudyResult, "protocol">,
): TableModel | null {
  const { verification, worstAndBest, undecidable } = condition;
  if (verification === null) return null;
  const { corrected, byPolicy, programme } = verification;
  const examined = corrected.examined.testPositive + corrected.examined.testNegative;
  const fixed = protocol.undecidable;
  const way = (
    name: string,
    [sensitivity, specificity]: readonly [TableCell, TableCell],
    n: number | null,
    who: string,
    why: string,
  ): TableRow => ({ cells: [name, sensitivity, specificity, n, who, why] });
  const others = byPolicy.filter(({ policy }) => policy !== fixed);
  const unable = `without a decision: ${undecidableWords[fixed]}`;
  return {
    kind: "table",
    title: `One rate, counted in each way: ${condition.title}`,
    columns: [
      text("Counted"),
      { label: "Sensitivity", format: "percent" },
      { label: "Specificity", format: "percent" },
      { label: "Rows", format: "count" },
      text("In and out"),
      text("Why it differs"),
    ],
    rows: [
      way(
        `${waysOfCounting.corrected} (the headline)`,
        [corrected.sensitivity, corrected.specificity],
        corrected.n,
        `all screened; the unexamined through examined ones of the same decision; ${unable}`,
        "Takes back that being examined hung on what the programme decided.",
      ),
      way(
        waysOfCounting.examined,
        [corrected.naive.sensitivity, corrected.naive.specificity],
        examined,
        `examined for any reason; the unexamined are out; ${unable}`,
        "The referred are examined more often: sensitivity comes out too high, specificity too low.",
      ),
      ...curveRow(condition, protocol),
      ...(undecidable === 0
        ? []
        : [
            ...others.map(({ policy, corrected: other }) =>
              way(
                `${waysOfCounting.corrected}; without a decision: ${undecidableWords[policy]}`,
                [other.sensitivity, other.specificity],
                other.n,
                `as the headline, but without a decision: ${undecidableWords[policy]}`,
                "A child whom the reading cannot decide may be counted in several ways.",
              ),
            ),
            way(
              `${waysOfCounting.examined}, worst to best case of those without a decision`,
              [boundsText(worstAndBest.sensitivity), boundsText(worstAndBest.specificity)],
              condition.screened - condition.unexamined,
              "examined for any reason, those without a decision either way",
              "The least and the greatest that their decision allows.",
            ),
          ]),
      way(
        waysOfCounting.bounds,
        [boundsText(corrected.bounds.sensitivity), boundsText(corrected.bounds.specificity)],
        corrected.n,
        `all screened, each unexamined one with or without the condition; every known child stays; ${unable}`,
        "Nothing is assumed of the unexamined; there is no sampling error in them.",
      ),
    ],
    notes: [
      sourceWords[programme.source],
      ...(verification.strata === null
        ? []
        : [
            `Corrected within the groups in which children were drawn (${verification.strata.length}).`,
          ]),
      ...corrected.notes,
    ],
  };
}

const sourceWords = {
  recorded: "Who was examined follows from the decision that the programme recorded.",
  computed:
    "The programme's decision is not recorded; it was computed by the rule that the protocol declares for it.",
  studied:
    "The programme's decision is not recorded; it is taken to be that of the referral under study.",
} as const;

/** The point of the curve at the limit fixed in advance. */
function curveRow({ id, curve }: ConditionResult, protocol: StudyResult["protocol"]): TableRow[] {
  const limit = referralLimit(protocol, id);
  if (curve.kind === "undefined" || limit === null) return [];
  const beyond = curve.points.filter(({ cutOff }) => cutOff !== null && meets(cutOff, limit));
  const point = beyond.at(-1);
  if (point === undefined) return [];
  const n = point.truePositive + point.falsePositive + point.falseNegative + point.trueNegative;
  return [
    {
      cells: [
        waysOfCounting.curve,
        point.sensitivity,
        point.specificity,
        n,
        "examined and with a measured value; beyond the range and without a decision are out",
        "A curve moves along values, so that a reading without one is not on it.",
      ],
    },
  ];
}

/** "12.3 to 45.6 %", or a dash. */
export function boundsText(bounds: Bounds | Undefined): string {
  if (bounds.kind === "undefined") return "–";
  return `${percentText(bounds.low, 1)} to ${percentText(bounds.high, 1)} %`;
}
