import { randomBinomial } from "d3-random";
import type { VerificationCell } from "../../../src/accuracy/index.js";
import { correctCells } from "../../../src/accuracy/verification/correctCells.js";
import { createRandom } from "../../../src/inference/index.js";

/** An invented programme whose own decision led to the exams, and a rule that is studied on it. */
export interface Design {
  readonly children: number;
  readonly prevalence: number;
  /** Of the programme's decision among those who could be read. */
  readonly sensitivity: number;
  /** The studied rule beside the programme's. */
  readonly rule: "equal" | "stricter" | "looser" | "crossing";
  /** Share of passes drawn for an exam. */
  readonly drawn: number;
}

export interface DesignResult {
  /** Mean of the passes examined, and of the missed cases among them. */
  readonly passesExamined: number;
  readonly drawnMisses: number;
  readonly truth: { readonly sensitivity: number; readonly specificity: number };
  readonly coverage: {
    readonly sensitivity: number;
    readonly specificity: number;
    readonly prevalence: number;
  };
  /** Programmes with a point, its mean, and the Monte Carlo error of the mean. */
  readonly points: number;
  readonly mean: {
    readonly sensitivity: number;
    readonly specificity: number;
    readonly prevalence: number;
  };
  readonly error: {
    readonly sensitivity: number;
    readonly specificity: number;
    readonly prevalence: number;
  };
  /** A var(B) / (A + B)³ at the truth. */
  readonly ratioBias: number;
}

const specificity = 0.9;
const attendance = { refer: 0.6, unable: 0.5 } as const;

/** Chance that the studied rule refers, [without, with] the condition, by what was recorded. */
const refers = {
  equal: { refer: [1, 1], pass: [0, 0], unable: [1, 1] },
  stricter: { refer: [0.5, 0.9], pass: [0, 0], unable: [1, 1] },
  looser: { refer: [1, 1], pass: [0.05, 0.5], unable: [1, 1] },
  crossing: { refer: [0.6, 0.9], pass: [0.04, 0.4], unable: [1, 1] },
} as const;

/** Chances of the recorded decision, of a child [without, with] the condition. */
const recordedOf = (sensitivity: number) => ({
  unable: [0.03, 0.06],
  refer: [0.97 * (1 - specificity), 0.94 * sensitivity],
  pass: [0.97 * specificity, 0.94 * (1 - sensitivity)],
});

/** Share of all children in each cell, with and without the condition. */
function cellsOf({ prevalence, sensitivity, rule, drawn }: Design) {
  const recorded = recordedOf(sensitivity);
  return (["refer", "pass", "unable"] as const).flatMap((decision) =>
    (["refer", "pass"] as const).map((studied) => {
      const share = (sick: 0 | 1) =>
        (sick ? prevalence : 1 - prevalence) *
        recorded[decision][sick] *
        (studied === "refer" ? refers[rule][decision][sick] : 1 - refers[rule][decision][sick]);
      const examined = decision === "pass" ? drawn : attendance[decision];
      return { decision, studied, withIt: share(1), without: share(0), examined };
    }),
  );
}

/** Corrects as many programmes of one design as asked for. */
export function simulateDecisions(
  design: Design,
  rounds: number,
  seed: number,
  draws = 500,
): DesignResult {
  const { uniform } = createRandom(seed);
  const binomial = randomBinomial.source(uniform);
  const draw = (n: number, p: number) => (n === 0 || p <= 0 ? 0 : p >= 1 ? n : binomial(n, p)());
  const cells = cellsOf(design);
  const sum = (pick: (cell: (typeof cells)[number]) => number) =>
    cells.reduce((total, cell) => total + pick(cell), 0);
  const of = (studied: string, name: "withIt" | "without") =>
    sum((cell) => (cell.studied === studied ? cell[name] : 0));
  const truth = {
    sensitivity: of("refer", "withIt") / sum(({ withIt }) => withIt),
    specificity: of("pass", "without") / sum(({ without }) => without),
    prevalence: design.prevalence,
  };
  const names = ["sensitivity", "specificity", "prevalence"] as const;
  const tally = names.map(() => ({ covered: 0, points: 0, sum: 0, squares: 0 }));
  let [passes, misses] = [0, 0];
  for (let round = 0; round < rounds; round++) {
    const drawn: VerificationCell[] = [];
    const known = { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 };
    const unverified = { testPositive: 0, testNegative: 0 };
    let left = design.children;
    let mass = 1;
    const size = (share: number) => {
      const n = draw(left, Math.min(1, share / mass));
      left -= n;
      mass -= share;
      return n;
    };
    for (const { decision, studied, withIt, without, examined } of cells) {
      const [sick, well] = [size(withIt), size(without)];
      const [cases, others] = [draw(sick, examined), draw(well, examined)];
      const refer = studied === "refer";
      known[refer ? "truePositive" : "falseNegative"] += cases;
      known[refer ? "falsePositive" : "trueNegative"] += others;
      unverified[refer ? "testPositive" : "testNegative"] += sick + well - cases - others;
      drawn.push({
        recorded: decision,
        studied,
        group: "",
        n: sick + well,
        examined: cases + others,
        cases,
        knownOnly: 0,
        own: false,
      });
      if (decision === "pass") {
        passes += cases + others;
        if (!refer) misses += cases;
      }
    }
    const result = correctCells(
      {
        kind: "verification-cells",
        n: design.children,
        cells: drawn,
        counts: { verified: known, unverified },
        knownOnly: { truePositive: 0, falsePositive: 0, falseNegative: 0, trueNegative: 0 },
        excluded: 0,
        rowsPerChild: 1,
      },
      { level: 0.95, seed: round + 1, replicates: draws },
    );
    names.forEach((name, at) => {
      const { low = 0, high = 1, value } = result[name];
      const one = tally[at];
      if (low <= truth[name] && truth[name] <= high) one.covered++;
      if (value === undefined) return;
      one.points++;
      one.sum += value;
      one.squares += value * value;
    });
  }
  const each = (pick: (one: (typeof tally)[number]) => number) => ({
    sensitivity: pick(tally[0]),
    specificity: pick(tally[1]),
    prevalence: pick(tally[2]),
  });
  return {
    passesExamined: passes / rounds,
    drawnMisses: misses / rounds,
    truth,
    coverage: each(({ covered }) => covered / rounds),
    points: tally[0].points,
    mean: each(({ sum: total, points }) => (points === 0 ? 0 : total / points)),
    error: each(({ sum: total, squares, points }) =>
      points < 2 ? 0 : Math.sqrt((squares - total ** 2 / points) / (points - 1) / points),
    ),
    ratioBias: ratioBias(design),
  };
}

/** Variance of the missed as a share of all, by the delta method at the truth. */
function ratioBias(design: Design): number {
  const { children, prevalence } = design;
  let [missed, variance] = [0, 0];
  for (const { studied, withIt, without, examined } of cellsOf(design)) {
    const share = withIt + without;
    if (studied === "refer" || share === 0) continue;
    const rate = withIt / share;
    missed += withIt;
    variance += (share * rate ** 2) / children;
    variance += (share * rate * (1 - rate)) / (children * examined);
  }
  variance -= missed ** 2 / children;
  return ((prevalence - missed) * variance) / prevalence ** 3;
}

/** 2 to 1,650 examined passes; invented. */
export const designs: readonly Design[] = (
  [
    [200, 0.012],
    [200, 0.1],
    [2000, 0.005],
    [2000, 0.05],
    [2000, 0.4],
    [20000, 0.002],
    [20000, 0.02],
    [20000, 0.095],
  ] as const
).flatMap(([children, drawn]) =>
  [0.05, 0.2].flatMap((prevalence) => [
    ...(["equal", "stricter", "looser", "crossing"] as const).map((rule) => ({
      children,
      drawn,
      prevalence,
      sensitivity: 0.8,
      rule,
    })),
    { children, drawn, prevalence, sensitivity: 0.95, rule: "equal" as const },
  ]),
);
