import type { CrossValidated } from "../accuracy/index.js";
import { type Performance, performanceOf } from "../accuracy/index.js";
import { InputError } from "../results/index.js";
import type { GridChoice } from "./chooseOnGrid.js";
import { frontOnGrid } from "./frontOnGrid.js";
import { placesOf } from "./judgeRule.js";
import { rulePoint } from "./paretoFront.js";
import { limitsAt, tableAt } from "./ruleAt.js";
import { type GridCounts, ratesOnGrid } from "./ruleGrid.js";
import { type PlateauRules, plateauOf } from "./rulePlateau.js";
import type { FrontReading, RangeOfLimit, RulePlateau, RuleSearch } from "./ruleSearch.js";
import type { SearchRows } from "./searchRows.js";
import { lastAtLeast } from "./searchTask.js";

interface Context {
  readonly rows: SearchRows;
  readonly counts: GridCounts;
  readonly choice: GridChoice;
  readonly compared: PlateauRules;
  readonly specificities: readonly number[];
  readonly level: number;
  readonly apparent: Performance;
}

/** What the resampled searches say. */
export function summariseResamples(
  values: Float64Array,
  context: Context,
): Pick<RuleSearch, "optimism" | "corrected" | "stability" | "plateau" | "front" | "failed"> {
  const { rows, counts, compared, specificities, apparent } = context;
  const width = 3 + 2 * compared.all.length + 3 * specificities.length;
  const starts = Array.from({ length: values.length / width }, (_, at) => at * width);
  const used = starts.filter((at) => !Number.isNaN(values[at]));
  if (used.length === 0) {
    throw new InputError("searchRules requires resamples with a choice, got none");
  }
  const optimism = meanOptimism(values, used, counts);
  const front = frontOnGrid(counts, "specificity");
  return {
    optimism,
    corrected: minus(apparent, optimism),
    stability: Object.fromEntries(
      rows.criteria.map((criterion, axis) => [
        criterion,
        sharesOfLimits(
          used.map((at) => placesOf(values[at], counts.sizes)[axis]),
          rows.limits[criterion],
        ),
      ]),
    ),
    plateau: plateauAsData(values, used, context),
    front: specificities.map((least, at) =>
      frontReading(
        front,
        values,
        starts.map((start) => start + width - 3 * (specificities.length - at)),
        least,
        context,
      ),
    ),
    failed: starts.length - used.length,
  };
}

/** Sensitivity and specificity of each repeat, counts added over its folds. */
export function summariseFolds(values: Float64Array, folds: number): CrossValidated | null {
  const found = { sensitivity: [] as number[], specificity: [] as number[] };
  for (let repeat = 0; repeat < values.length; repeat += 5 * folds) {
    const sums = [0, 0, 0, 0];
    for (let at = repeat; at < repeat + 5 * folds; at += 5) {
      for (let place = 0; place < 4; place++) sums[place] += values[at + 1 + place];
    }
    found.sensitivity.push(sums[0] / sums[1]);
    found.specificity.push(sums[2] / sums[3]);
  }
  const whole = [...found.sensitivity, ...found.specificity].every(Number.isFinite);
  return whole ? found : null;
}

/** Mean of rates in the resample minus rates of the same rule on the rows; rule first at each place. */
function meanOptimism(
  values: Float64Array,
  places: readonly number[],
  counts: GridCounts,
): Performance {
  let [sensitivity, specificity] = [0, 0];
  for (const at of places) {
    const { missed, spared } = ratesOnGrid(counts, values[at]);
    sensitivity += values[at + 1] - (1 - missed);
    specificity += values[at + 2] - spared;
  }
  const [a, b] = [sensitivity / places.length, specificity / places.length];
  return { sensitivity: a, specificity: b, youdenIndex: a + b };
}

function minus(apparent: Performance, optimism: Performance): Performance {
  return performanceOf(
    apparent.sensitivity - optimism.sensitivity,
    apparent.specificity - optimism.specificity,
  );
}

function sharesOfLimits(places: readonly number[], limits: readonly (number | null)[]) {
  return limits
    .map((limit, place) => ({
      limit,
      share: places.filter((other) => other === place).length / places.length,
    }))
    .filter(({ share }) => share > 0);
}

function plateauAsData(
  values: Float64Array,
  used: readonly number[],
  { rows, counts, choice, compared, level }: Context,
): RulePlateau {
  const { within, criticalValue } = plateauOf(
    counts,
    choice,
    compared,
    (start, at) => [values[start + 3 + 2 * at], values[start + 4 + 2 * at]],
    used,
    level,
  );
  const chosen = compared.all[0];
  const onFront = compared.front.filter((rule) => within.has(rule));
  const range = (rules: readonly number[], axis: number): RangeOfLimit => {
    const places = [chosen, ...rules].map((rule) => placesOf(rule, counts.sizes)[axis]);
    const list = rows.limits[rows.criteria[axis]];
    return { lowest: list[Math.min(...places)], highest: list[Math.max(...places)] };
  };
  const byCriterion = (of: (axis: number) => RangeOfLimit) =>
    Object.fromEntries(rows.criteria.map((criterion, axis) => [criterion, of(axis)]));
  return {
    rules: onFront.map((rule) =>
      rulePoint(limitsAt(rows.criteria, rows.limits, rule), tableAt(counts, rule)),
    ),
    ranges: byCriterion((axis) => range(onFront, axis)),
    alone: byCriterion((axis) => range(unbroken(compared.alone[axis], chosen, within), axis)),
    criticalValue,
    compared: compared.all.length,
    level,
  };
}

/** The rules of a line that can be reached from the chosen one without leaving the plateau. */
function unbroken(
  line: readonly number[],
  chosen: number,
  within: ReadonlySet<number>,
): readonly number[] {
  const below = line.filter((rule) => rule < chosen).reverse();
  const above = line.filter((rule) => rule > chosen);
  return [below, above].flatMap((side) => {
    const end = side.findIndex((rule) => !within.has(rule));
    return end < 0 ? side : side.slice(0, end);
  });
}

function frontReading(
  front: readonly number[],
  values: Float64Array,
  places: readonly number[],
  least: number,
  { rows, counts }: Context,
): FrontReading {
  const rule = lastAtLeast(front, counts, least);
  if (rule < 0) return { specificityAtLeast: least, rule: null, corrected: null };
  const point = rulePoint(limitsAt(rows.criteria, rows.limits, rule), tableAt(counts, rule));
  const used = places.filter((at) => !Number.isNaN(values[at]));
  return {
    specificityAtLeast: least,
    rule: point,
    corrected:
      used.length === 0
        ? null
        : minus(
            performanceOf(point.sensitivity, point.specificity),
            meanOptimism(values, used, counts),
          ),
  };
}
