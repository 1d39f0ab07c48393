import { methodName } from "../results/index.js";
import { percent } from "../rows/index.js";
import type { AccuracyPlanRow } from "./accuracyPlan.js";
import { lowerEndWords } from "./shared.js";
import type { AccuracyStudy } from "./studies.js";

/** What a plan of accuracy takes for granted, in words. */
export function accuracyAssumptions(
  study: AccuracyStudy,
  planned: AccuracyPlanRow | null,
): readonly string[] {
  const { expected, aim, interval = "wilson", level = 0.95, lost = 0, eyes, verification } = study;
  const said = [
    `Sensitivity is ${expected.sensitivity}, specificity ${expected.specificity} and the prevalence ${expected.prevalence}: guesses, on which every number here rests; try worse ones too.`,
    "Children are enrolled as they come, neither chosen nor enriched by the condition.",
  ];
  said.push(
    lost > 0
      ? `${percent(lost)} of children have no usable reading and finding, whether or not they have the condition. Where the unreadable have it more often, the study finds fewer cases and its accuracy is that of the readable.`
      : "Every child has a usable reading and finding: no child is unreadable, no child stays away.",
  );
  if (aim !== undefined && "minimum" in aim) {
    said.push(
      `Each minimum is shown by ${lowerEndWords(level)} (${methodName(interval)}); all of them have to be shown.`,
      "The power is exact binomial and counts the chance of the numbers with and without the condition.",
    );
  } else if (verification === undefined) {
    said.push(
      `The half-width is half the width of the ${percent(level)} interval (${methodName(interval)}) of a study that finds exactly the expected shares in the expected numbers${study.assurance === undefined ? "; about half of such studies hold fewer rows, or find shares with a wider interval" : ""}.`,
    );
  }
  if (eyes !== undefined) {
    said.push(
      `${eyes.perChild} eyes of a child are analysed, their outcomes correlate by ${eyes.correlation}: each eye counts 1/${Number((1 + (eyes.perChild - 1) * eyes.correlation).toPrecision(4))}, also among eyes with the condition, where a child often has one only (on the safe side). The prevalence is that of eyes; a child counts as referred once for each share of its eyes.`,
    );
  }
  if (study.sites !== undefined) {
    const { perSite, correlation } = study.sites;
    said.push(
      `${perSite} children are screened at each site; the outcomes of two of one site, on one side of the condition, correlate by ${correlation}. A rate's design effect counts the rows of a site on its side, and the interval has Student's t on the number of sites less 1: more sites help, more children of one site hardly do.`,
    );
  }
  if (verification !== undefined) {
    const { shareOfReferred = 1 } = verification;
    said.push(
      `${percent(shareOfReferred)} of the referred are examined, and passes are drawn at random: those who come by themselves do not count.`,
      `The half-width is that of the ${percent(level)} logit interval of the corrected rate, were exactly the expected found.`,
    );
    if (planned !== null) {
      const missed = planned.withCondition * (1 - expected.sensitivity);
      const seen = (missed * planned.examinedPasses) / (planned.n * (1 - lost) - planned.referred);
      said.push(
        `The correction rests on ${seen.toFixed(1)} missed cases expected among the examined passes${seen < 10 ? ": too few, the corrected sensitivity will lie above the truth on average" : ""}.`,
      );
    }
  }
  return said;
}
