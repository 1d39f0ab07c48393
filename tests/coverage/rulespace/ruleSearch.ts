// Searched rules on simulated cohorts: do cross-validated rates tell what new children would give?
import { createRandom } from "../../../src/inference/random.js";
import { bestRule } from "../../../src/rulespace/bestRule.js";
import { ruleAt } from "../../../src/rulespace/ruleAt.js";
import { type RuleMeasures, ruleMeasures } from "../../../src/rulespace/ruleMeasures.js";
import { type RuleSpace, ruleSpace } from "../../../src/rulespace/ruleSpace.js";
import { searchRules } from "../../../src/rulespace/searchRules.js";
import { simulateCohort } from "../../../src/simulation/simulateCohort.js";

export interface StudySize {
  readonly cohorts: number;
  readonly children: number;
  readonly newChildren: number;
  readonly folds: number;
  readonly replicates: number;
  readonly shuffles: number;
}

const steps = (from: number, to: number, step: number) =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, at) => from + at * step);

const limits = {
  hyperopia: [...steps(1, 4.5, 0.5), Number.POSITIVE_INFINITY],
  myopia: [...steps(0.5, 3.5, 0.5), Number.POSITIVE_INFINITY],
  astigmatism: [...steps(1, 3.5, 0.5), Number.POSITIVE_INFINITY],
  anisometropia: [...steps(0.5, 3, 0.5), Number.POSITIVE_INFINITY],
};

interface Children {
  readonly measures: { readonly [criterion in keyof RuleMeasures]: ArrayLike<number> };
  readonly condition: ArrayLike<number>;
}

/** Invented children whom everybody examined; a child's two rows follow each other. */
async function invented(children: number, seed: number): Promise<Children> {
  const { readings, truth } = await simulateCohort({ children, seed, scenario: "complete" });
  const rows = { right: new Int32Array(children), left: new Int32Array(children) };
  for (let row = 0; row < readings.n; row++) {
    const eye = readings.eye.labels[readings.eye.codes[row]!]!;
    rows[eye][readings.subject.codes[row]!] = row;
  }
  return { measures: ruleMeasures(readings, rows), condition: truth.conditionByFinding };
}

const constraints = { specificityAtLeast: 0.9 };

/** Mean over cohorts of cross-validated (and apparent, corrected) rates minus those on new children. */
export async function knownTruth(size: StudySize) {
  const truth = await spaceOfNewChildren(size.newChildren);
  const gaps = { crossValidated: [] as Rates[], apparent: [] as Rates[], corrected: [] as Rates[] };
  const trueRates: Rates[] = [];
  for (let cohort = 0; cohort < size.cohorts; cohort++) {
    const data = await invented(size.children, 5000 + cohort);
    const found = await searchRules(
      { ...data, limits },
      {
        constraints,
        undecidable: "exclude",
        folds: size.folds,
        repeats: 1,
        replicates: size.replicates,
        seed: cohort,
        specificities: [],
      },
    );
    const own = ratesOf(truth, found.limits);
    trueRates.push(own);
    for (const kind of ["crossValidated", "apparent", "corrected"] as const) {
      const rates = found[kind]!;
      gaps[kind].push({
        sensitivity: rates.sensitivity - own.sensitivity,
        specificity: rates.specificity - own.specificity,
      });
    }
  }
  return {
    kind: "known-truth",
    ...size,
    rules: truth.ruleCount,
    constraints,
    prevalence: truth.withCondition.total / truth.n,
    bestPossible: sensitivityOfBest(truth),
    truth: summary(trueRates, 1),
    crossValidatedMinusTruth: summary(gaps.crossValidated),
    apparentMinusTruth: summary(gaps.apparent),
    correctedMinusTruth: summary(gaps.corrected),
  };
}

/** The condition dealt out at random: nothing to find. */
export async function nothingToFind(size: StudySize) {
  const data = await invented(size.children, 77);
  const indices = {
    crossValidated: [] as number[],
    apparent: [] as number[],
    corrected: [] as number[],
  };
  const random = createRandom(4321);
  for (let shuffle = 0; shuffle < size.shuffles; shuffle++) {
    random.restart(4321, shuffle);
    const condition = Uint8Array.from(data.condition);
    for (let last = condition.length - 1; last > 0; last--) {
      const other = random.integer(last + 1);
      [condition[last], condition[other]] = [condition[other]!, condition[last]!];
    }
    const found = await searchRules(
      { measures: data.measures, condition, limits },
      {
        constraints: { goal: "youden" },
        undecidable: "exclude",
        folds: size.folds,
        repeats: 1,
        replicates: size.replicates,
        seed: shuffle,
        specificities: [],
      },
    );
    for (const kind of ["crossValidated", "apparent", "corrected"] as const) {
      indices[kind].push(found[kind]!.youdenIndex);
    }
  }
  return {
    kind: "nothing-to-find",
    ...size,
    crossValidated: meanAndError(indices.crossValidated),
    apparent: meanAndError(indices.apparent),
    corrected: meanAndError(indices.corrected),
  };
}

interface Rates {
  readonly sensitivity: number;
  readonly specificity: number;
}

async function spaceOfNewChildren(children: number): Promise<RuleSpace> {
  const block = 100_000;
  const parts: Children[] = [];
  for (let from = 0; from < children; from += block) {
    parts.push(await invented(Math.min(block, children - from), 900_000 + from));
  }
  const join = (of: (part: Children) => ArrayLike<number>) =>
    Float64Array.from(parts.flatMap((part) => Array.from(of(part))));
  const criteria = Object.keys(limits) as (keyof typeof limits)[];
  return ruleSpace(
    {
      measures: Object.fromEntries(
        criteria.map((criterion) => [criterion, join(({ measures }) => measures[criterion])]),
      ),
      condition: join(({ condition }) => condition),
      limits,
    },
    { undecidable: "exclude" },
  );
}

function ratesOf(space: RuleSpace, rule: { readonly [criterion: string]: number | null }): Rates {
  const { truePositive, falsePositive, falseNegative, trueNegative } = ruleAt(space, rule);
  return {
    sensitivity: truePositive / (truePositive + falseNegative),
    specificity: trueNegative / (trueNegative + falsePositive),
  };
}

function sensitivityOfBest(space: RuleSpace): number | null {
  const best = bestRule(space, constraints);
  return best.kind === "best-rule" ? best.sensitivity : null;
}

/** `less` is 1 for rates and 0 for differences of them. */
function summary(rates: readonly Rates[], less = 0) {
  return {
    sensitivity: meanAndError(rates.map(({ sensitivity }) => sensitivity)),
    specificity: meanAndError(rates.map(({ specificity }) => specificity)),
    youdenIndex: meanAndError(rates.map((one) => one.sensitivity + one.specificity - less)),
  };
}

/** Mean and its Monte Carlo error. */
function meanAndError(values: readonly number[]) {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const error = Math.sqrt(squares / (values.length - 1) / values.length);
  return { mean: Number(mean.toFixed(5)), error: Number(error.toFixed(5)) };
}
