import {
  differenceAgainstMean,
  doubleAngle,
  type MarkedThreshold,
  rocFigure,
} from "../figures/index.js";
import type { ProtocolLimit } from "../protocol/index.js";
import type { FigureSpec } from "../results/index.js";
import { correctedChoices } from "./correctedChoices.js";
import { isStrict, referralLimit } from "./limit.js";
import type { ConditionResult, StudyResult } from "./studyResult.js";

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
  const agreement: FigureSpec[] = result.agreement.map(
    ({ quantity, mirrored, limits, plotted }) => ({
      ...differenceAgainstMean(limits, plotted, {
        quantity: `${quantityNames[quantity]}${mirrored ? ", left eyes mirrored" : ""}`,
        audience: protocol.audience,
      }),
      name: `difference-against-mean-${quantity}`,
    }),
  );
  if (result.astigmatism !== null) {
    const { summary, plotted } = result.astigmatism;
    const { centroid, eyes } = summary.ellipses;
    const label = {
      right: "right eyes",
      left: "left eyes",
      both: "both eyes, left mirrored",
      worse: "both eyes, left mirrored",
      random: "one eye a child, left mirrored",
    };
    agreement.push({
      ...doubleAngle(
        [{ label: label[protocol.eye], n: summary.n, ellipses: [centroid, eyes], points: plotted }],
        { quantity: "difference, test − reference", audience: protocol.audience },
      ),
      name: "double-angle-difference",
    });
  }
  const conditions = new Map<string, readonly FigureSpec[]>(
    result.conditions.map((condition) => {
      const { id, title, curve, area } = condition;
      const referral = referralLimit(protocol, id);
      if (curve.kind === "undefined" || referral === null) return [id, []] as const;
      const figure = rocFigure(curve, area, {
        condition: protocol.verification === "complete" ? title : `${title}, among the examined`,
        row: protocol.unit === "child" ? "child" : "eye",
        marked: [
          { cutOff: referral.limit, strict: isStrict(referral), origin: "pre-specified" },
          ...chosenBeside(condition, referral),
        ],
        audience: protocol.audience,
      });
      return [id, [{ ...figure, name: `roc-${id}` }]] as const;
    }),
  );
  return { agreement, conditions };
}

/** The limits that the run chose, in the order in which the bench asks for them too. */
function chosenBeside(condition: ConditionResult, referral: ProtocolLimit): MarkedThreshold[] {
  const cutOffs = new Set(correctedChoices(condition).map(({ cutOff }) => cutOff));
  return [...cutOffs].flatMap((cutOff): MarkedThreshold[] =>
    cutOff === null || (cutOff === referral.limit && !isStrict(referral))
      ? []
      : [{ cutOff, origin: "chosen" }],
  );
}
