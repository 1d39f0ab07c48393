import { createRandom, surveyMean, surveyShare } from "../../../src/inference/index.js";

/** Strata of units of children; unit effects are normal, weights from 1 to 2 hang together with nothing. */
export interface SurveyDesignOfGrid {
  readonly strata: number;
  readonly units: number;
  readonly children: number;
  /** SD of the unit effects beside an own SD of 1. */
  readonly unitSd: number;
  /** The condition: a value of at most this. */
  readonly limit: number;
}

export interface SurveyCoverage extends SurveyDesignOfGrid {
  readonly surveys: number;
  readonly truth: number;
  readonly mean: number;
  readonly share: number;
  /** Shares of intervals that lie above and below the true share. */
  readonly above: number;
  readonly below: number;
}

/** Stratum means rise by 0.2; the true share is that of the whole, by the normal distribution. */
export const surveyDesigns: readonly SurveyDesignOfGrid[] = [
  { strata: 10, units: 3, children: 8, unitSd: 0.6, limit: -0.6 },
  { strata: 10, units: 3, children: 8, unitSd: 0.6, limit: -1.5 },
  { strata: 10, units: 3, children: 8, unitSd: 0.6, limit: 0.9 },
  { strata: 10, units: 2, children: 8, unitSd: 0.6, limit: -0.6 },
  { strata: 10, units: 3, children: 8, unitSd: 0, limit: -0.6 },
  { strata: 5, units: 4, children: 8, unitSd: 0.6, limit: -0.6 },
];

export function coverSurveys(
  design: SurveyDesignOfGrid,
  surveys: number,
  seed: number,
  normalCdf: (z: number) => number,
): SurveyCoverage {
  const { strata, units, children, unitSd, limit } = design;
  const trends = Array.from({ length: strata }, (_, stratum) => stratum / 5);
  const average = (values: readonly number[]) =>
    values.reduce((sum, one) => sum + one, 0) / values.length;
  const truth = average(trends.map((trend) => normalCdf((limit - trend) / Math.hypot(1, unitSd))));
  const middle = average(trends);
  const random = createRandom(seed);
  const tally = { mean: 0, share: 0, above: 0, below: 0 };
  for (let survey = 0; survey < surveys; survey++) {
    const columns = {
      values: [] as number[],
      weights: [] as number[],
      strata: [] as number[],
      units: [] as number[],
    };
    trends.forEach((trend, stratum) => {
      for (let unit = 0; unit < units; unit++) {
        const shift = trend + unitSd * random.normal();
        for (let child = 0; child < children; child++) {
          columns.values.push(shift + random.normal());
          columns.weights.push(1 + random.uniform());
          columns.strata.push(stratum);
          columns.units.push(unit);
        }
      }
    });
    const { values, ...sampled } = columns;
    const mean = surveyMean(columns).estimate;
    const share = surveyShare({
      condition: values.map((value) => (value <= limit ? 1 : 0)),
      ...sampled,
    }).estimate;
    if (mean.kind === "estimate" && mean.low <= middle && middle <= mean.high) tally.mean++;
    if (share.kind === "undefined") continue;
    if (share.low > truth) tally.above++;
    else if (share.high < truth) tally.below++;
    else tally.share++;
  }
  const rate = (count: number) => Number((count / surveys).toFixed(4));
  return {
    ...design,
    surveys,
    truth: Number(truth.toFixed(4)),
    mean: rate(tally.mean),
    share: rate(tally.share),
    above: rate(tally.above),
    below: rate(tally.below),
  };
}
