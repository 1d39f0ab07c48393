import { rocFigure } from "../../figures/index.js";
import type { FigureSpec } from "../../results/index.js";
import { isStrict } from "../../rows/index.js";
import type { CoarseStudy } from "../coarse/coarseStudy.js";
import { referralLimit } from "../run/referralLimit.js";
import { astigmatismFigure, differenceFigure } from "./studyFigures.js";

/** The figures of coarse counts, by section. */
export function publicFigures({ protocol, agreement, astigmatism, conditions }: CoarseStudy): {
  readonly agreement: readonly FigureSpec[];
  readonly conditions: ReadonlyMap<string, readonly FigureSpec[]>;
} {
  return {
    agreement: [
      ...agreement.map((one) =>
        differenceFigure(
          { ...one, limits: { ...one.limits, n: null } },
          { ...protocol, audience: "public" },
        ),
      ),
      ...(astigmatism === null
        ? []
        : [astigmatismFigure({ ...astigmatism, n: null }, protocol.eye, "public")]),
    ],
    conditions: new Map<string, readonly FigureSpec[]>(
      conditions.map(({ id, title, counts }) => {
        const limit = referralLimit(protocol, id);
        if (!counts?.curve || limit === null) return [id, []] as const;
        const { curve, area } = counts.curve;
        const figure = rocFigure(curve, area, {
          condition: `${title}, in coarse stops`,
          row: protocol.unit === "child" ? "child" : "eye",
          marked: [{ cutOff: limit.limit, strict: isStrict(limit), origin: "pre-specified" }],
          // its points are of coarse counts: every one of them may be seen
          audience: "journal",
        });
        return [id, [{ ...figure, name: `roc-${id}` }]] as const;
      }),
    ),
  };
}
