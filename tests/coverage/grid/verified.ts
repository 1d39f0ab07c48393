// Children of whom a part was examined: the referred who came, and passes drawn; sites shift reading and refraction.
import { correctByDecision } from "../../../src/accuracy/index.js";
import { createRandom, type Random } from "../../../src/inference/random.js";
import type { Generator } from "./generators.js";
import { siteSd } from "./generators.js";
import { type Measured, measured } from "./measures.js";

const measures = [
  "sensitivity",
  "specificity",
  "positivePredictiveValue",
  "negativePredictiveValue",
  "prevalence",
] as const;
type Rates = { readonly [measure in (typeof measures)[number]]: number };

const attendance = 0.7;
/** The programme referred from 1.25 D, the rule under study does from 1.00 D; the condition is 1.50 D and more. */
const limits = { programme: 1.25, studied: 1, condition: 1.5 };

export function drawChild(random: Random, refraction: number, reading: number) {
  const m = 0.3 + 1.1 * random.normal() + refraction;
  const read = m - 0.1 + 0.5 * random.normal() + reading;
  return {
    finding: m,
    read,
    sick: m >= limits.condition,
    recorded: read >= limits.programme ? "refer" : "pass",
    refers: read >= limits.studied,
  };
}

const truths = new Map<number, Rates>();
/** Of a million and a half children, each in a site of its own. */
function truthOf(sd: number): Rates {
  const known = truths.get(sd);
  if (known !== undefined) return known;
  const random = createRandom(20_261_130, 9);
  const counts = [0, 0, 0, 0];
  for (let child = 0; child < 1_500_000; child++) {
    const { sick, refers } = drawChild(random, sd * random.normal(), sd * random.normal());
    counts[2 * Number(sick) + Number(refers)]!++;
  }
  const [trueNegative, falsePositive, falseNegative, truePositive] = counts as [
    number,
    number,
    number,
    number,
  ];
  const truth = {
    sensitivity: truePositive / (truePositive + falseNegative),
    specificity: trueNegative / (trueNegative + falsePositive),
    positivePredictiveValue: truePositive / (truePositive + falsePositive),
    negativePredictiveValue: trueNegative / (trueNegative + falseNegative),
    prevalence: (truePositive + falseNegative) / 1_500_000,
  };
  truths.set(sd, truth);
  return truth;
}

/** Children in sites of one size, and who of them was examined. */
export function drawVerified(
  { sites, siteSd: sd = siteSd, drawn = 1 }: Generator,
  children: number,
  random: Random,
) {
  const shifts = Array.from({ length: sites }, () => [sd * random.normal(), sd * random.normal()]);
  return Array.from({ length: children }, (_, child) => {
    const site = Math.floor((child * sites) / children);
    const [refraction, reading] = shifts[site] as [number, number];
    const { finding, read, sick, recorded, refers } = drawChild(random, refraction, reading);
    const examined = random.uniform() < (recorded === "refer" ? attendance : drawn);
    const why = recorded === "refer" ? "referred" : "sampled";
    const reason = examined ? why : "not-examined";
    return { site, finding, read, sick, recorded, refers, examined, reason };
  });
}

export function measureVerified(
  generator: Generator,
  children: number,
  random: Random,
  by: "rows" | "subjects" | "clusters",
): Measured[] {
  const { siteSd: sd = siteSd } = generator;
  const rows = drawVerified(generator, children, random);
  const column = <Value>(of: (row: (typeof rows)[number], at: number) => Value) => rows.map(of);
  const found = correctByDecision(
    {
      recorded: column(({ recorded }) => recorded),
      test: column(({ refers }) => refers),
      reference: column(({ sick, reason }) => (reason === "not-examined" ? null : sick)),
      reason: column(({ reason }) => reason),
      ...(by === "clusters"
        ? { clusters: { subject: column((_, at) => at), site: column(({ site }) => site) } }
        : {}),
    },
    { replicates: 600 },
  );
  const truth = truthOf(sd);
  return measures.map((measure) => {
    const { low, high } = found[measure];
    // fewer than 3 drawn misses leave an interval without a value
    const kind = low === undefined ? "undefined" : "estimate";
    return measured({
      interval: `corrected ${measure}`,
      found: { kind, low, high },
      truth: truth[measure],
    });
  });
}
