/** One mean square in the variance of a difference, with what it is multiplied by. */
interface VarianceTerm {
  readonly coefficient: number;
  readonly meanSquare: number;
  readonly df: number;
}

/** What every interval of limits of agreement is made from. */
export interface LimitModel {
  readonly bias: number;
  readonly biasSe: number;
  /** Degrees of freedom of the bias: clusters less one. */
  readonly biasDf: number;
  /** Variance of one difference: the terms added up. */
  readonly variance: number;
  readonly terms: readonly VarianceTerm[];
  readonly components: VarianceComponents;
}

/**
 * Where the variance of a difference comes from. A component is absent where the data do not have
 * its level, and 0 where its estimate is negative.
 */
export interface VarianceComponents {
  /** Between children. */
  readonly betweenSubjects?: number;
  /** Between the eyes of a child, or between the pairs of a child where units do not repeat. */
  readonly withinSubjects?: number;
  /** Of repeated test readings of one unit. */
  readonly testRepeats?: number;
  /** Of repeated reference values of one unit. */
  readonly referenceRepeats?: number;
}

/** Independent rows: one mean square. */
export function independentModel(n: number, bias: number, squares: number): LimitModel {
  const variance = squares / (n - 1);
  return {
    bias,
    biasSe: Math.sqrt(variance / n),
    biasDf: n - 1,
    variance,
    terms: [{ coefficient: 1, meanSquare: variance, df: n - 1 }],
    components: {},
  };
}

/** Sums of one cluster, from which the model of any collection of clusters follows. */
export interface ClusterSums {
  /** Units in each cluster: eyes, or rows where units do not repeat. */
  readonly units: Float64Array;
  /** Sum of the units' mean differences, from `origin`. */
  readonly sum: Float64Array;
  readonly squares: Float64Array;
  readonly rows: Float64Array;
  /** Sums of squares of repeats about their unit's mean. */
  readonly testWithin: Float64Array;
  readonly referenceWithin: Float64Array;
  /** Sum over units of 1 / rows. */
  readonly inverseRows: Float64Array;
  readonly origin: number;
}

/**
 * Two eyes follow the model of Bland and Altman 2007 (the true value varies: total variance =
 * between + within, by analysis of variance); repeats of one unit follow that of 1999 (variance of
 * unit means plus what averaging took away); both at once are three levels. The standard error of
 * the bias is cluster-robust, so that unequal clusters need no model.
 *
 * @param picks numbers of the clusters that count, with repetition; all of them when left out
 * @param readings limits for the mean of so many test readings
 */
export function clusteredModel(
  sums: ClusterSums,
  readings: number,
  picks?: Int32Array,
): LimitModel {
  const clusters = picks?.length ?? sums.units.length;
  const at = (index: number) => (picks ? picks[index] : index);
  let units = 0;
  let sum = 0;
  let squares = 0;
  let unitSquares = 0;
  let between = 0;
  let rows = 0;
  let testWithin = 0;
  let referenceWithin = 0;
  let inverseRows = 0;
  for (let index = 0; index < clusters; index++) {
    const c = at(index);
    units += sums.units[c];
    unitSquares += sums.units[c] * sums.units[c];
    sum += sums.sum[c];
    squares += sums.squares[c];
    between += (sums.sum[c] * sums.sum[c]) / sums.units[c];
    rows += sums.rows[c];
    testWithin += sums.testWithin[c];
    referenceWithin += sums.referenceWithin[c];
    inverseRows += sums.inverseRows[c];
  }
  const mean = sum / units;
  let scores = 0;
  for (let index = 0; index < clusters; index++) {
    const c = at(index);
    const score = sums.sum[c] - sums.units[c] * mean;
    scores += score * score;
  }
  const perCluster = (units - unitSquares / units) / (clusters - 1);
  const meanSquareBetween = Math.max(0, between - sum * mean) / (clusters - 1);
  const terms: VarianceTerm[] = [
    { coefficient: 1 / perCluster, meanSquare: meanSquareBetween, df: clusters - 1 },
  ];
  let components: VarianceComponents = {};
  if (units > clusters) {
    const meanSquare = Math.max(0, squares - between) / (units - clusters);
    terms.push({ coefficient: 1 - 1 / perCluster, meanSquare, df: units - clusters });
    components = {
      betweenSubjects: Math.max(0, (meanSquareBetween - meanSquare) / perCluster),
      withinSubjects: meanSquare,
    };
  } else if (rows > units) {
    components = { betweenSubjects: meanSquareBetween };
  }
  if (rows > units) {
    const df = rows - units;
    const lost = inverseRows / units;
    const [test, reference] = [testWithin / df, referenceWithin / df];
    terms.push({ coefficient: 1 / readings - lost, meanSquare: test, df });
    terms.push({ coefficient: 1 - lost, meanSquare: reference, df });
    components = withoutRepeats(components, lost * (test + reference), test, reference);
  }
  return {
    bias: sums.origin + mean,
    biasSe: Math.sqrt((scores / (units * units)) * (clusters / (clusters - 1))),
    biasDf: clusters - 1,
    variance: Math.max(
      0,
      terms.reduce((total, term) => total + term.coefficient * term.meanSquare, 0),
    ),
    terms,
    components,
  };
}

/** Takes the repeats' share out of the lowest level that holds it. */
function withoutRepeats(
  components: VarianceComponents,
  share: number,
  testRepeats: number,
  referenceRepeats: number,
): VarianceComponents {
  const repeats = { testRepeats, referenceRepeats };
  return components.withinSubjects === undefined
    ? {
        betweenSubjects: Math.max(0, (components.betweenSubjects ?? 0) - share),
        ...repeats,
      }
    : {
        ...components,
        withinSubjects: Math.max(0, components.withinSubjects - share),
        ...repeats,
      };
}
