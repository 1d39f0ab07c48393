import {
  differenceAgainstMeanFigure,
  doubleAngleFigure,
  type MarkedThreshold,
  rocFigure,
} from "../../figures/index.js";
import type { ProtocolLimit } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { isStrict, toThousandths } from "../../rows/index.js";
import { referralLimit } from "../run/referralLimit.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { correctedChoices } from "./correctedChoices.js";
import { shownTotals } from "./shownTotals.js";

const quantityNames = {
  M: "spherical equivalent M",
  J0: "astigmatic component J0",
  J45: "astigmatic component J45",
} as const;

/** The figures of a study, by section; drawn from the saved result alone. */
export function studyFigures(result: StudyResult): {
  readonly agreement: readonly FigureSpec[];
  readonly conditions: ReadonlyMap<string, readonly FigureSpec[]>;
} {
  const { protocol } = result;
  const totals = shownTotals(result);
  const agreement: FigureSpec[] = result.agreement.map(
    ({ quantity, mirrored, limits, shown }, at) => ({
      ...differenceAgainstMeanFigure(countedIf(totals.agreement[at]!, limits), shown, {
        quantity: `${quantityNames[quantity]}${mirrored ? ", left eyes mirrored" : ""}`,
        audience: protocol.audience,
      }),
      name: `difference-against-mean-${quantity}`,
    }),
  );
  if (result.astigmatism !== null) {
    const { summary, shown } = result.astigmatism;
    const { centroid, eyes } = summary.ellipses;
    const { n } = countedIf(totals.plane, summary);
    const label = {
      right: "right eyes",
      left: "left eyes",
      both: "both eyes, left mirrored",
      worse: "both eyes, left mirrored",
      random: "one eye a child, left mirrored",
    };
    agreement.push({
      ...doubleAngleFigure(
        [{ label: label[protocol.eye], n, ellipses: [centroid, eyes], points: shown }],
        {
          quantity: "difference, test − reference",
          audience: protocol.audience,
        },
      ),
      name: "double-angle-difference",
    });
  }
  const conditions = new Map<string, readonly FigureSpec[]>(
    result.conditions.map((condition, at) => {
      const { id, title, curve, area } = condition;
      const referral = referralLimit(protocol, id);
      if (curve.kind === "undefined" || referral === null) return [id, []] as const;
      const figure = rocFigure(totals.curves[at] ? curve : { ...curve, n: null }, area, {
        condition: protocol.verification === "complete" ? title : `${title}, among the examined`,
        row: protocol.unit === "child" ? "child" : "eye",
        marked: [
          {
            cutOff: referral.limit,
            strict: isStrict(referral),
            origin: "pre-specified",
            ...twinOf(condition, null),
          },
          ...chosenBeside(condition, referral).map((mark) => ({
            ...mark,
            ...twinOf(condition, mark.cutOff),
          })),
        ],
        audience: protocol.audience,
      });
      return [id, [{ ...figure, name: `roc-${id}` }]] as const;
    }),
  );
  return { agreement, conditions };
}

/**
 * The corrected twin of a mark on the curve of the examined: at the limit fixed in advance (null), or
 * at another; nothing where everybody was examined, so that the curve itself is right.
 */
function twinOf(
  { verification, atStops }: ConditionResult,
  cutOff: number | null,
): Pick<MarkedThreshold, "corrected"> {
  if (verification === null) return {};
  const { sensitivity, specificity } =
    cutOff === null
      ? verification.corrected
      : (atStops?.find((stop) => stop.cutOff === cutOff) ?? verification.corrected);
  return {
    corrected:
      sensitivity.kind === "estimate" && specificity.kind === "estimate"
        ? { sensitivity: sensitivity.value, specificity: specificity.value }
        : null,
  };
}

/** A result without the number of eyes where this is not for the reader. */
function countedIf<Result extends { readonly n: number }>(
  isShown: boolean,
  result: Result,
): Omit<Result, "n"> & { readonly n: number | null } {
  return isShown ? result : { ...result, n: null };
}

/** The limits that the run chose, in the order in which the bench asks for them too. */
function chosenBeside(condition: ConditionResult, referral: ProtocolLimit): MarkedThreshold[] {
  const cutOffs = new Set(correctedChoices(condition).map(({ cutOff }) => cutOff));
  return [...cutOffs].flatMap((cutOff): MarkedThreshold[] =>
    cutOff === null ||
    (toThousandths(cutOff) === toThousandths(referral.limit) && !isStrict(referral))
      ? []
      : [{ cutOff, origin: "chosen" }],
  );
}
