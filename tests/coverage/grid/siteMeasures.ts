// Vectors and lines, with sites above children or without naming them.
import {
  axisAgreement,
  calibrateReading,
  doubleAngleSummary,
  type Ellipse,
  passingBablok,
  vectorAgreement,
} from "../../../src/agreement/index.js";
import { createRandom, type Random } from "../../../src/inference/random.js";
import { bias, drawRows, type Generator, type GridRows } from "./generators.js";
import { type Measured, measured, named, newChildren } from "./measures.js";

type By = "rows" | "subjects" | "clusters";
interface Vector {
  readonly M: number;
  readonly J0: number;
  readonly J45: number;
}

/** M as the generator gives it, J0 and J45 half as large; sites shift each of the three. */
function drawVectors(generator: Generator, children: number, random: Random) {
  const [M, J0, J45] = [0, 0, 0].map(() => drawRows(generator, children, random)) as [
    GridRows,
    GridRows,
    GridRows,
  ];
  const vectors = (name: "test" | "reference") =>
    Array.from(M[name], (value, row) => ({
      M: value,
      J0: J0[name][row]! / 2,
      J45: J45[name][row]! / 2,
    }));
  return { rows: M, test: vectors("test"), reference: vectors("reference") };
}

const asCylinders = (vectors: readonly Vector[]) =>
  vectors.map(({ J0, J45 }) => {
    const cylinder = -2 * Math.hypot(J0, J45);
    const degrees = (90 * Math.atan2(J45, J0)) / Math.PI;
    return { cylinder, axis: cylinder === 0 ? null : (degrees + 180) % 180 };
  });
const within10 = { cylinderAtLeast: 0.75, degrees: [10] };

/** Share of axes within 10 degrees among all children; each is in a site of its own. */
const axisShares = new Map<string, number>();
function axisShare(generator: Generator): number {
  const key = JSON.stringify(generator);
  const known = axisShares.get(key);
  if (known !== undefined) return known;
  const children = 200_000;
  const all = drawVectors({ ...generator, sites: children }, children, createRandom(20_261_130, 8));
  const found = axisAgreement(
    { test: asCylinders(all.test), reference: asCylinders(all.reference) },
    within10,
  ).within[0]!.share;
  const share = found.kind === "estimate" ? found.value : Number.NaN;
  axisShares.set(key, share);
  return share;
}

export function measureVectors(
  generator: Generator,
  children: number,
  random: Random,
  by: By,
): Measured[] {
  const { rows, test, reference } = drawVectors(generator, children, random);
  const whose = named(rows, by);
  // The region of the mean holds the truth where a difference from the truth is not significant.
  const truth = { M: bias, J0: bias / 2, J45: bias / 2 };
  const apart = test.map(({ M, J0, J45 }) => ({
    M: M - truth.M,
    J0: J0 - truth.J0,
    J45: J45 - truth.J45,
  }));
  const { hotelling } = vectorAgreement({ test: apart, reference, ...whose });
  const vectors = test.map((one, row) => ({
    M: one.M - reference[row]!.M,
    J0: one.J0 - reference[row]!.J0,
    J45: one.J45 - reference[row]!.J45,
  }));
  const { centroid } = doubleAngleSummary({ vectors, ...whose }).ellipses;
  const { share } = axisAgreement(
    { test: asCylinders(test), reference: asCylinders(reference), ...whose },
    within10,
  ).within[0]!;
  return [
    {
      interval: "mean vector, region (vectorAgreement)",
      holds: hotelling.kind === "undefined" ? null : hotelling.p >= 0.05,
      level: 0.95,
    },
    {
      interval: "centroid of astigmatism, ellipse (doubleAngleSummary)",
      holds: isWithin(centroid, truth.J0, truth.J45),
      level: 0.95,
    },
    measured({
      interval: "axis within 10 degrees, share (axisAgreement)",
      found: share,
      truth: axisShare(generator),
    }),
  ];
}

function isWithin({ centre, semiAxes, angle }: Ellipse, x: number, y: number): boolean {
  const turn = (angle * Math.PI) / 180;
  const [dx, dy] = [x - centre.x, y - centre.y];
  const along = dx * Math.cos(turn) + dy * Math.sin(turn);
  const across = dy * Math.cos(turn) - dx * Math.sin(turn);
  return (along / semiAxes[0]) ** 2 + (across / semiAxes[1]) ** 2 <= 1;
}

/** The line from reading to finding of all children. */
const lines = new Map<string, { slope: number; intercept: number }>();
function lineOf(generator: Generator): { slope: number; intercept: number } {
  const key = JSON.stringify(generator);
  const known = lines.get(key);
  if (known !== undefined) return known;
  const { test, reference } = newChildren(generator);
  const mean = (values: Float64Array) => values.reduce((sum, one) => sum + one, 0) / values.length;
  const [x, y] = [mean(test), mean(reference)];
  const products = test.reduce((sum, one, row) => sum + (one - x) * (reference[row]! - y), 0);
  const slope = products / test.reduce((sum, one) => sum + (one - x) ** 2, 0);
  const found = { slope, intercept: y - slope * x };
  lines.set(key, found);
  return found;
}

export function measureLines(generator: Generator, rows: GridRows, by: By): Measured[] {
  const { test, reference } = rows;
  const data = { test, reference, ...named(rows, by) };
  const line = lineOf(generator);
  const fitted = calibrateReading(data);
  const robust = passingBablok(data);
  return [
    { interval: "calibration, slope", found: fitted.slope, truth: line.slope },
    { interval: "calibration, intercept", found: fitted.intercept, truth: line.intercept },
    // reading and finding are alike but for the bias
    { interval: "Passing-Bablok, slope", found: robust.slope, truth: 1 },
    { interval: "Passing-Bablok, intercept", found: robust.intercept, truth: bias },
  ].map(measured);
}
