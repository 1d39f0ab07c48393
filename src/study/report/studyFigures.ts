import type { Ellipse } from "../../agreement/index.js";
import {
  differenceAgainstMeanFigure,
  doubleAngleFigure,
  type LimitsShown,
  type MarkedThreshold,
  rocFigure,
} from "../../figures/index.js";
import type { Audience, ShownPairs } from "../../privacy/index.js";
import type { Protocol, ProtocolLimit } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { isStrict, toThousandths } from "../../rows/index.js";
import { referralLimit } from "../run/referralLimit.js";
import type { AgreementResult, ConditionResult, StudyResult } from "../run/studyResult.js";
import { correctedChoices } from "./correctedChoices.js";

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
  const { protocol, astigmatism } = result;
  const agreement = [
    ...result.agreement.map((one) => differenceFigure(one, protocol)),
    ...(astigmatism === null
      ? []
      : [
          astigmatismFigure(
            {
              n: astigmatism.summary.n,
              ellipses: [astigmatism.summary.ellipses.centroid, astigmatism.summary.ellipses.eyes],
              shown: astigmatism.shown,
            },
            protocol.eye,
            protocol.audience,
          ),
        ]),
  ];
  const conditions = new Map<string, readonly FigureSpec[]>(
    result.conditions.map((condition) => {
      const { id, title, curve, area } = condition;
      const referral = referralLimit(protocol, id);
      if (curve.kind === "undefined" || referral === null) return [id, []] as const;
      const figure = rocFigure(curve, area, {
        condition: protocol.verification === "complete" ? title : `${title}, among the examined`,
        row: protocol.unit === "child" ? "child" : "eye",
        marked: [
          {
            cutOff: referral.limit,
            strict: isStrict(referral),
            origin: "pre-specified",
            // among the examined an interval would be that of another rate
            ...(condition.verification === null ? { accuracy: condition.accuracy } : {}),
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

/** Differences against means of one component. */
export function differenceFigure(
  {
    quantity,
    mirrored,
    limits,
    shown,
  }: Pick<AgreementResult, "quantity" | "mirrored" | "shown"> & { readonly limits: LimitsShown },
  { audience, acceptableDifference }: Pick<Protocol, "audience" | "acceptableDifference">,
): FigureSpec {
  return {
    ...differenceAgainstMeanFigure(limits, shown, {
      // stated of M alone
      ...(quantity === "M" ? { acceptable: acceptableDifference } : {}),
      quantity: `${quantityNames[quantity]}${mirrored ? ", left eyes mirrored" : ""}`,
      audience,
    }),
    name: `difference-against-mean-${quantity}`,
  };
}

/** The differences of J0 and J45 on their plane. */
export function astigmatismFigure(
  {
    n,
    ellipses,
    shown,
  }: {
    readonly n: number | null;
    readonly ellipses: readonly Ellipse[];
    readonly shown: ShownPairs;
  },
  eye: StudyResult["protocol"]["eye"],
  audience: Audience,
): FigureSpec {
  const label = {
    right: "right eyes",
    left: "left eyes",
    both: "both eyes, left mirrored",
    worse: "both eyes, left mirrored",
    random: "one eye a child, left mirrored",
  };
  return {
    ...doubleAngleFigure([{ label: label[eye], n, ellipses, points: shown }], {
      quantity: "difference, test − reference",
      of: "difference",
      audience,
    }),
    name: "double-angle-difference",
  };
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
