import { sortNumbers } from "../inference/index.js";
import {
  conditionCodes,
  type PositiveWhen,
  requireDirection,
  requireNumbers,
  requireWeights,
  sum,
  withoutNoise,
  type YesNoColumn,
} from "../rows/index.js";
import { type FewValues, fewValues } from "./fewValues.js";

/** Rows reduced to counts, or sums of weights, per distinct value; the most suspicious value first. */
export interface ValueCounts {
  readonly n: number;
  readonly positiveWhen: PositiveWhen;
  readonly weighted: boolean;
  /** Distinct values, descending when high is positive, ascending when low is. */
  readonly values: Float64Array;
  readonly withCondition: Float64Array;
  readonly withoutCondition: Float64Array;
  readonly totalWith: number;
  readonly totalWithout: number;
}

/**
 * Counts per distinct value and class. Values that are one whole thousandth but for binary noise are
 * one value (`withoutNoise`); -0 and 0 are too. All others are told apart to the last digit.
 * Few distinct values are counted by look-up; of many, each class is sorted on its own and the two
 * are merged: less than one sort of all values.
 */
export function countByValue(
  caller: string,
  data: {
    readonly values: ArrayLike<number>;
    readonly condition: YesNoColumn;
    readonly weights?: ArrayLike<number>;
  },
  positiveWhen: PositiveWhen,
): ValueCounts {
  requireDirection(caller, positiveWhen);
  const codes = conditionCodes(caller, "condition", data.condition);
  requireNumbers(caller, "values", data.values, codes.length);
  if (data.weights === undefined) return countRows(data.values, codes, positiveWhen);
  requireWeights(caller, data.weights, codes.length);
  return addWeights(data.values, codes, data.weights, positiveWhen);
}

function countRows(
  values: ArrayLike<number>,
  codes: Uint8Array,
  positiveWhen: PositiveWhen,
): ValueCounts {
  const few = fewValues(values);
  return few === null
    ? countSorted(values, codes, positiveWhen)
    : countFew(few, codes, positiveWhen);
}

function countFew(
  { distinct, placeOfRow }: FewValues,
  codes: Uint8Array,
  positiveWhen: PositiveWhen,
): ValueCounts {
  const byPlace = new Int32Array(2 * distinct.length);
  for (let row = 0; row < codes.length; row++) byPlace[2 * placeOfRow[row] + codes[row]]++;
  const sign = positiveWhen === "high" ? 1 : -1;
  const order = Uint16Array.from(distinct, (_, place) => place).sort(
    (a, b) => sign * (distinct[b] - distinct[a]),
  );
  const counts = {
    values: Float64Array.from(order, (place) => distinct[place]),
    withCondition: Float64Array.from(order, (place) => byPlace[2 * place + 1]),
    withoutCondition: Float64Array.from(order, (place) => byPlace[2 * place]),
  };
  return {
    n: codes.length,
    positiveWhen,
    weighted: false,
    ...counts,
    totalWith: sum(counts.withCondition),
    totalWithout: sum(counts.withoutCondition),
  };
}

function countSorted(
  values: ArrayLike<number>,
  codes: Uint8Array,
  positiveWhen: PositiveWhen,
): ValueCounts {
  const n = codes.length;
  let cases = 0;
  for (let row = 0; row < n; row++) cases += codes[row];
  const sorted = [new Float64Array(n - cases), new Float64Array(cases)] as const;
  const filled = [0, 0];
  // towards ascending order of suspicion
  const sign = positiveWhen === "high" ? 1 : -1;
  for (let row = 0; row < n; row++) {
    const code = codes[row];
    sorted[code][filled[code]++] = sign * withoutNoise(values[row]);
  }
  return merge(sortNumbers(sorted[1]), sortNumbers(sorted[0]), sign, positiveWhen);
}

function merge(
  cases: Float64Array,
  controls: Float64Array,
  sign: number,
  positiveWhen: PositiveWhen,
): ValueCounts {
  const most = cases.length + controls.length;
  const values = new Float64Array(most);
  const withCondition = new Float64Array(most);
  const withoutCondition = new Float64Array(most);
  let used = 0;
  let atCase = cases.length - 1;
  let atControl = controls.length - 1;
  while (atCase >= 0 || atControl >= 0) {
    const value =
      atControl < 0 || (atCase >= 0 && cases[atCase] >= controls[atControl])
        ? cases[atCase]
        : controls[atControl];
    const caseEnd = atCase;
    while (atCase >= 0 && cases[atCase] === value) atCase--;
    const controlEnd = atControl;
    while (atControl >= 0 && controls[atControl] === value) atControl--;
    values[used] = sign * value + 0;
    withCondition[used] = caseEnd - atCase;
    withoutCondition[used] = controlEnd - atControl;
    used++;
  }
  return {
    n: most,
    positiveWhen,
    weighted: false,
    values: values.subarray(0, used),
    withCondition: withCondition.subarray(0, used),
    withoutCondition: withoutCondition.subarray(0, used),
    totalWith: cases.length,
    totalWithout: controls.length,
  };
}

function addWeights(
  values: ArrayLike<number>,
  codes: Uint8Array,
  weights: ArrayLike<number>,
  positiveWhen: PositiveWhen,
): ValueCounts {
  const counts = countRows(values, codes, positiveWhen);
  const cells = cellOfRows(counts, values);
  const withCondition = new Float64Array(counts.values.length);
  const withoutCondition = new Float64Array(counts.values.length);
  for (let row = 0; row < codes.length; row++) {
    (codes[row] === 1 ? withCondition : withoutCondition)[cells[row]] += weights[row];
  }
  return {
    ...counts,
    weighted: true,
    withCondition,
    withoutCondition,
    totalWith: sum(withCondition),
    totalWithout: sum(withoutCondition),
  };
}

/** Each row's place in the list of distinct values. */
export function cellOfRows(
  counts: Pick<ValueCounts, "values" | "positiveWhen">,
  values: ArrayLike<number>,
): Int32Array {
  const few = fewValues(values);
  if (few === null) return placesIn(counts, values);
  const cellOfPlace = placesIn(counts, few.distinct);
  const cells = new Int32Array(values.length);
  for (let row = 0; row < cells.length; row++) cells[row] = cellOfPlace[few.placeOfRow[row]];
  return cells;
}

/** By bisection. */
function placesIn(
  { values: distinct, positiveWhen }: Pick<ValueCounts, "values" | "positiveWhen">,
  values: ArrayLike<number>,
): Int32Array {
  const cells = new Int32Array(values.length);
  const sign = positiveWhen === "high" ? 1 : -1;
  for (let row = 0; row < cells.length; row++) {
    const wanted = sign * withoutNoise(values[row]);
    let low = 0;
    let high = distinct.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (sign * distinct[middle] > wanted) low = middle + 1;
      else high = middle;
    }
    cells[row] = low;
  }
  return cells;
}
