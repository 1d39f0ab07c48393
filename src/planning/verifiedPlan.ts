import { caution, type Estimate, type Undefined, undefinedBecause } from "../results/index.js";
import { accuracyAssumptions } from "./accuracyAssumptions.js";
import type {
  AccuracyNeed,
  AccuracyPlan,
  AccuracyPlanRow,
  PlannedMeasure,
  Wanted,
} from "./accuracyPlan.js";
import { halfWidthOf } from "./expectedInterval.js";
import { nobodyIsEnough, tableSizes } from "./shared.js";
import { smallestEnough } from "./smallestStaying.js";
import type { AccuracyStudy } from "./studies.js";
import { drawnSensitivity, verifiedPrecision } from "./verifiedPrecision.js";

/** The referred are examined, and a random share of the passes. */
export function verifiedPlan(study: AccuracyStudy, wanted: Wanted): AccuracyPlan {
  const { expected, level = 0.95, lost = 0, verification = {} } = study;
  const { children, shareOfReferred = 1 } = verification;
  const at = (n: number, shareOfPasses: number) =>
    verifiedPrecision(
      { ...expected, screened: n * (1 - lost), shareOfReferred, shareOfPasses },
      level,
    );
  const reached = (measure: PlannedMeasure, value: number, n: number, share: number) => {
    const estimate = at(n, share)[measure];
    return estimate.kind === "estimate" && halfWidthOf(estimate) <= value;
  };
  let n: number | Undefined;
  let shareOfPasses: number | Undefined = verification.shareOfPasses ?? 1;
  let needs: readonly AccuracyNeed[];
  if (children !== undefined) {
    const passes = at(children, 1).passed;
    const exams = wanted.map(({ measure, value }) =>
      smallestEnough((passed) => reached(measure, value, children, Math.min(1, passed / passes)), {
        most: Math.ceil(passes),
      }),
    );
    n = children;
    shareOfPasses = exams.includes(null)
      ? undefinedBecause("not reached with every pass examined: more children have to be screened")
      : Math.min(1, Math.max(...(exams as number[])) / passes);
    if (typeof shareOfPasses !== "number") n = shareOfPasses;
    needs = wanted.map(({ measure, value }, which) => ({
      measure,
      wanted: value,
      rowCount: exams[which] ?? (shareOfPasses as Undefined),
      n: exams[which] === null ? (shareOfPasses as Undefined) : children,
    }));
  } else {
    const share = shareOfPasses;
    needs = wanted.map(({ measure, value }) => {
      const size =
        smallestEnough((screened) => reached(measure, value, screened, share), { from: 2 }) ??
        nobodyIsEnough(`a half-width of ${value}`);
      return {
        measure,
        wanted: value,
        rowCount: typeof size === "number" ? Math.ceil(at(size, share).examinedPasses) : size,
        n: size,
      };
    });
    const none = needs.find((need) => typeof need.n !== "number");
    n =
      needs.length === 0
        ? undefinedBecause("no precision and no power is asked for")
        : ((none?.n as Undefined | undefined) ??
          Math.max(...needs.map((need) => need.n as number)));
  }
  const share = typeof shareOfPasses === "number" ? shareOfPasses : 1;
  const rowAt = (screened: number): AccuracyPlanRow => {
    const row = at(screened, share);
    const usable = screened * (1 - lost);
    return {
      n: screened,
      withCondition: usable * expected.prevalence,
      withoutCondition: usable * (1 - expected.prevalence),
      referred: row.referred,
      examined: row.examinedReferred + row.examinedPasses,
      examinedPasses: row.examinedPasses,
      sensitivity: row.sensitivity,
      specificity: row.specificity,
      power: null,
    };
  };
  const planned = typeof n === "number" ? rowAt(n) : null;
  return {
    kind: "accuracy-plan",
    aim: study.aim === undefined ? "none" : "half-width",
    n,
    needs,
    row: "child",
    level,
    method: "logit",
    designEffect: 1,
    shareOfPasses,
    chanceOfEnough: null,
    wantedPower: null,
    planned,
    table: tableSizes(study.at, n).map(rowAt),
    assumptions: [
      ...accuracyAssumptions(study, planned),
      ...(planned === null
        ? []
        : drawnWords(
            drawnSensitivity(
              {
                ...expected,
                screened: planned.n * (1 - lost),
                shareOfReferred,
                shareOfPasses: share,
              },
              level,
            ),
          )),
    ],
    caution,
  };
}

/** The interval that the report will print, which is another one than the plan's. */
function drawnWords({ low, high }: Estimate | Undefined): string[] {
  if (low === undefined || high === undefined) return [];
  return [
    `The report of a study prints another interval of sensitivity, by draws of the cells, which holds with few missed cases too: here ${low.toFixed(3)} to ${high.toFixed(3)}, a half-width of ${((high - low) / 2).toFixed(3)}.`,
  ];
}
