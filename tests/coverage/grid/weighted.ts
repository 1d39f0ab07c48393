// The same children, of whom a part was examined: areas, rates of a fixed cut-off and limits weighted for it.
import { weightedLimits } from "../../../src/agreement/index.js";
import { createRandom, type Random } from "../../../src/inference/random.js";
import { areaUnderCurve, validateThreshold } from "../../../src/thresholds/index.js";
import type { Generator } from "./generators.js";
import { siteSd } from "./generators.js";
import { type Measured, measured } from "./measures.js";
import { drawChild, drawVerified } from "./verified.js";

const cutOff = 1;
const z = 1.959963984540054;
const truths = new Map<number, { area: number; sensitivity: number; specificity: number }>();

/** Of four hundred thousand children, each in a site of its own. */
function truthOf(sd: number) {
  const known = truths.get(sd);
  if (known !== undefined) return known;
  const random = createRandom(20_261_130, 10);
  const all = Array.from({ length: 400_000 }, () =>
    drawChild(random, sd * random.normal(), sd * random.normal()),
  );
  const area = areaUnderCurve(
    { values: all.map(({ read }) => read), condition: all.map(({ sick }) => sick) },
    { positiveWhen: "high" },
  );
  const shareOf = (has: boolean) => {
    const own = all.filter(({ sick }) => sick === has);
    return own.filter(({ read }) => read >= cutOff === has).length / own.length;
  };
  const truth = {
    area: area.kind === "undefined" ? Number.NaN : area.value,
    sensitivity: shareOf(true),
    specificity: shareOf(false),
  };
  truths.set(sd, truth);
  return truth;
}

export function measureWeighted(
  generator: Generator,
  children: number,
  random: Random,
  by: "rows" | "subjects" | "clusters",
): Measured[] {
  const { siteSd: sd = siteSd } = generator;
  const rows = drawVerified(generator, children, random);
  const examination = {
    examined: rows.map(({ examined }) => examined),
    strata: rows.map(({ recorded }) => recorded),
  };
  const draws = { seed: random.integer(1_000_000), replicates: 400 };
  const clusters = { subject: rows.map((_, at) => at), site: rows.map(({ site }) => site) };
  const values = rows.map(({ read }) => read);
  const data = { values, condition: rows.map(({ sick }) => sick), examination };
  const pairs = { test: values, reference: rows.map(({ finding }) => finding), examination };
  const high = { positiveWhen: "high" } as const;
  const { area, accuracy, limits } =
    by === "clusters"
      ? {
          area: areaUnderCurve({ ...data, clusters }, high),
          accuracy: validateThreshold({ ...data, clusters }, { ...high, cutOff }).accuracy,
          limits: weightedLimits({ ...pairs, clusters }),
        }
      : {
          area: areaUnderCurve(data, { ...high, ...draws, interval: "bootstrap" }),
          accuracy: validateThreshold(data, { ...high, cutOff, ...draws }).accuracy,
          limits: weightedLimits(pairs, draws),
        };
  const misses = rows.filter((row) => row.sick && row.recorded === "pass" && row.examined).length;
  const { area: wholeArea, ...rates } = truthOf(sd);
  const spread = Math.hypot(0.5, sd);
  const none = { kind: "undefined" } as const;
  const given = limits.kind === "undefined" ? null : limits;
  return [
    { interval: "weighted area", found: area, truth: wholeArea },
    // as a study shows it
    {
      interval: "weighted area, 3 drawn misses or more",
      found: misses < 3 ? none : area,
      truth: wholeArea,
    },
    {
      interval: "weighted sensitivity",
      found: accuracy.sensitivity,
      truth: rates.sensitivity,
    },
    {
      interval: "weighted specificity",
      found: accuracy.specificity,
      truth: rates.specificity,
    },
    { interval: "weighted bias", found: given?.bias ?? none, truth: -0.1 },
    { interval: "weighted limit: lower", found: given?.lower ?? none, truth: -0.1 - z * spread },
    { interval: "weighted limit: upper", found: given?.upper ?? none, truth: -0.1 + z * spread },
  ].map(measured);
}
