import { chiSquareQuantile, normalQuantile } from "../inference/index.js";
import {
  caution,
  type Estimate,
  methodName,
  type Undefined,
  undefinedBecause,
} from "../results/index.js";
import { percent } from "../rows/index.js";
import { agreementPower, type PlannedLimits, plannedFactors } from "./agreementPower.js";
import { halfWidthOf } from "./expectedInterval.js";
import { checkedStudy, studySchemas } from "./schema.js";
import { nobodyIsEnough, tableSizes } from "./shared.js";
import { smallestEnough } from "./smallestStaying.js";
import type { AgreementStudy } from "./studies.js";

/** What a study of so many children is expected to give. */
export interface AgreementPlanRow {
  /** Children enrolled. */
  readonly n: number;
  /** Children expected to be analysed, one eye each. */
  readonly analysed: number;
  /** Limits of agreement, or null where repeats are planned. */
  readonly lower: Estimate | Undefined | null;
  readonly upper: Estimate | Undefined | null;
  /** Within-subject SD, or null where limits are planned. */
  readonly withinSd: Estimate | Undefined | null;
  /** Of the interval of a limit, in the unit of the SD; of repeats, as a share of the SD. */
  readonly halfWidth: number | null;
  readonly power: number | null;
}

/** How many eyes or children an agreement study needs, and what it is expected to give. */
export interface AgreementPlan {
  readonly kind: "agreement-plan";
  readonly aim: "within" | "half-width" | "repeats";
  /** Children to enrol. */
  readonly n: number | Undefined;
  /** Children to be analysed. */
  readonly analysed: number | Undefined;
  /** Readings of each child by the test. */
  readonly readingsPerChild: number;
  readonly wanted: number;
  readonly wantedPower: number | null;
  readonly level: number;
  readonly coverage: number | null;
  readonly method: PlannedLimits | "chi-square" | "approximate";
  /** At n. */
  readonly planned: AgreementPlanRow | null;
  readonly table: readonly AgreementPlanRow[];
  readonly assumptions: readonly string[];
  readonly caution: string;
}

/**
 * How many children a study of agreement has to enrol: so that the intervals of both limits of
 * agreement lie within an acceptable difference with a wanted power; or that the interval of a limit
 * has a wanted half-width; or that repeated readings give the within-subject SD precisely enough.
 *
 * The intervals are those of `limitsOfAgreement` (exact by default) and `repeatability`
 * (chi-square); "lu-2016" is the interval of Lu and others 2016, "approximate" for repeats is
 * 1.96 / sqrt(2 n (m - 1)). Power is exact for independent normal differences: one eye a child, or
 * one value. A half-width is that at the expected SD.
 *
 * SD, bias, within and half-width are in one unit, dioptres as a rule. `n` is undefined, with its
 * reason, where the expected limits themselves do not lie within the acceptable difference.
 *
 * @throws when the plan has unknown members or a number out of its range
 *
 * @example
 * planAgreementStudy({ expected: { bias: 0.001167, sd: 0.001129 }, aim: { within: 0.004, power: 0.8 }, interval: "lu-2016" }).n // => 83
 * planAgreementStudy({ expected: { bias: 0.001167, sd: 0.001129 }, aim: { within: 0.004, power: 0.8 } }).n // => 97
 */
export function planAgreementStudy(study: AgreementStudy): AgreementPlan {
  const checked = checkedStudy("planAgreementStudy", studySchemas().agreement, study);
  const { expected, aim, interval = "exact", level = 0.95, coverage = 0.95, lost = 0 } = checked;
  const { sd, bias = 0 } = expected;
  const multiplier = normalQuantile((1 + coverage) / 2);
  const repeats = "repeats" in aim ? aim.repeats : null;

  const describe = (rows: number): Omit<AgreementPlanRow, "n" | "analysed"> => {
    const tooFew = rows < 2 ? undefinedBecause("fewer than 2 children are analysed") : null;
    if (repeats !== null) {
      const withinSd = tooFew ?? withinSdAt(sd, rows * (repeats - 1), interval, level);
      const halfWidth = withinSd.kind === "estimate" ? halfWidthOf(withinSd) / sd : null;
      return { lower: null, upper: null, withinSd, halfWidth, power: null };
    }
    if (tooFew !== null) {
      return { lower: tooFew, upper: tooFew, withinSd: null, halfWidth: null, power: null };
    }
    const { inner, outer } = plannedFactors(interval, rows, coverage, level);
    const limit = (sign: number): Estimate => {
      const ends = [bias + sign * inner * sd, bias + sign * outer * sd];
      const [low, high] = sign > 0 ? ends : ends.reverse();
      return {
        kind: "estimate",
        value: bias + sign * multiplier * sd,
        low,
        high,
        level,
        method: interval,
      };
    };
    return {
      lower: limit(-1),
      upper: limit(1),
      withinSd: null,
      halfWidth: ((outer - inner) / 2) * sd,
      power: "within" in aim ? agreementPower(rows, outer, { bias, sd, within: aim.within }) : null,
    };
  };

  const wanted =
    "within" in aim ? aim.within : "halfWidth" in aim ? aim.halfWidth : aim.relativeHalfWidth;
  const enough = (rows: number) => {
    const { power, halfWidth } = describe(rows);
    if ("within" in aim) return power !== null && power >= aim.power;
    return halfWidth !== null && halfWidth <= wanted;
  };
  const outside = "within" in aim && Math.abs(bias) + multiplier * sd >= aim.within;
  const analysed: number | Undefined = outside
    ? undefinedBecause(
        `the expected limits of agreement, ${bias} ± ${Number((multiplier * sd).toPrecision(4))}, do not lie within ± ${aim.within}`,
      )
    : (smallestEnough(enough, { from: 2, most: 1_000_000 }) ??
      nobodyIsEnough(
        "power" in aim ? `a power of ${percent(aim.power)}` : `a half-width of ${wanted}`,
      ));
  const n = typeof analysed === "number" ? Math.ceil(analysed / (1 - lost) - 1e-9) : analysed;
  const rowAt = (children: number): AgreementPlanRow => {
    const rows = Math.floor(children * (1 - lost) + 1e-9);
    return { n: children, analysed: rows, ...describe(rows) };
  };
  return {
    kind: "agreement-plan",
    aim: "within" in aim ? "within" : repeats === null ? "half-width" : "repeats",
    n,
    analysed,
    readingsPerChild: repeats ?? 1,
    wanted,
    wantedPower: "power" in aim ? aim.power : null,
    level,
    coverage: repeats === null ? coverage : null,
    method: repeats !== null && interval === "exact" ? "chi-square" : interval,
    planned: typeof n === "number" ? rowAt(n) : null,
    table: tableSizes(checked.at, n).map(rowAt),
    assumptions: assumptionsOf(checked),
    caution,
  };
}

function withinSdAt(sd: number, df: number, interval: PlannedLimits, level: number): Estimate {
  if (interval === "approximate") {
    const reach = normalQuantile((1 + level) / 2) / Math.sqrt(2 * df);
    const [low, high] = [sd * (1 - reach), sd * (1 + reach)];
    return { kind: "estimate", value: sd, low, high, level, method: "approximate" };
  }
  const at = (p: number) => sd * Math.sqrt(df / chiSquareQuantile(p, df));
  const [low, high] = [at((1 + level) / 2), at((1 - level) / 2)];
  return { kind: "estimate", value: sd, low, high, level, method: "chi-square" };
}

function assumptionsOf(study: AgreementStudy): readonly string[] {
  const { expected, aim, interval = "exact", level = 0.95, coverage = 0.95, lost = 0 } = study;
  const { sd, bias = 0 } = expected;
  const attrition =
    lost > 0
      ? `${percent(lost)} of children are lost, whatever their refraction.`
      : "No child is lost: every reading and every exam can be used.";
  if ("repeats" in aim) {
    return [
      `The within-subject SD is ${sd}, the same for every child, and repeat errors are normal and independent.`,
      `Every child has ${aim.repeats} readings of one eye; other children would be needed for other repeats.`,
      `The half-width is a share of the SD, of its ${percent(level)} interval (${interval === "exact" ? "chi-square" : "approximate"}).`,
      attrition,
    ];
  }
  return [
    `Differences (test minus reference) are normal with bias ${bias} and SD ${sd}, the same over the whole range: guesses, on which every number here rests; tails heavier than normal need more children.`,
    "One eye a child is analysed, so that rows are independent; a second eye adds less than a child.",
    `The limits hold the central ${percent(coverage)} of differences; each has its own ${percent(level)} interval (${methodName(interval)}).`,
    "within" in aim
      ? `Agreement is shown when the intervals of both limits lie within ± ${aim.within}, which has to be fixed beforehand for clinical reasons.`
      : "The half-width is that of the interval of one limit, were exactly the expected SD found.",
    attrition,
  ];
}
