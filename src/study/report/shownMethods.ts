import { quantityText } from "../../rows/index.js";
import type { PublicProtocol } from "../coarse/coarseStudy.js";
import { undecidableWords } from "./reconciliation.js";
import type { Shown } from "./shownIn.js";

/** Who could be in the study by age and by own columns, in words. */
export function eligibilityWords({ eligibility }: PublicProtocol): string {
  const { ageMonths, ageYears, own = {} } = eligibility;
  const words = [
    ...(ageMonths === undefined ? [] : [`age ${ageMonths[0]} to below ${ageMonths[1]} months`]),
    ...(ageYears === undefined ? [] : [`age ${ageYears[0]} to below ${ageYears[1]} years`]),
    ...Object.entries(own).map(([column, values]) =>
      values.every((value) => typeof value === "string")
        ? `${column}: ${values.join(", ")}`
        : `${column} from ${values[0]} to below ${values[1]}`,
    ),
  ];
  return words.length === 0
    ? "every child in the files, as the protocol sets no limit of age"
    : words.join("; ");
}

/** For whom the result holds, in a sentence. */
export function forWhom(protocol: PublicProtocol, ages: string | null = null): string {
  const { indexTest, sampling } = protocol;
  const who =
    sampling === "cohort"
      ? "children like these, as they came to be screened"
      : "children like these, among whom cases are over-represented: not those of a screening";
  return `It holds for ${who} (${ages === null ? "" : `${ages}; `}eligible: ${eligibilityWords(protocol)}), and for ${indexTest.description}. Anywhere else it needs data of its own.`;
}

/** Who was taken, which reading and which exam count: from the protocol alone. */
export function selectionMethods(protocol: PublicProtocol): string {
  const { indexTest, referenceStandard, linkage } = protocol;
  const repeats = {
    first: "the first counts",
    last: "the last counts",
    "highest-confidence": "the one of highest confidence counts",
  };
  const confident =
    indexTest.confidenceAtLeast === undefined
      ? ""
      : `; a reading below a confidence of ${indexTest.confidenceAtLeast} is none`;
  const window =
    linkage.daysBetween === undefined
      ? "An exam counts whatever the days between reading and exam"
      : `An exam counts from ${linkage.daysBetween[0]} to ${linkage.daysBetween[1]} days after the reading`;
  const states =
    referenceStandard.cycloplegia === undefined
      ? ""
      : `; it is a reference with cycloplegia "${referenceStandard.cycloplegia.join('" or "')}" only`;
  return `Eligibility: ${eligibilityWords(protocol)}. Of several readings of an eye ${repeats[indexTest.repeats]}${confident}. ${window}; of several the ${linkage.exam ?? "first"}${states}.`;
}

/** One analysis: how it is known that the report shows it, and what the methods then say. */
interface Analysis {
  readonly isShown: (shown: Shown) => boolean;
  readonly words: (protocol: PublicProtocol, shown: Shown) => string;
}

const table =
  (...starts: readonly string[]) =>
  (shown: Shown) =>
    shown.table(...starts) !== "";

const analyses: readonly Analysis[] = [
  {
    isShown: table("Criteria stated in advance"),
    words: () =>
      "Criteria stated in advance are met where the whole interval lies above what was asked, not met where it lies below; otherwise it cannot be said.",
  },
  {
    isShown: table("Of 1000, what the referral does"),
    words: ({ sampling, verification }) =>
      sampling === "enriched"
        ? "What the referral does to 1000 with and to 1000 without the condition follows from sensitivity and specificity; of 1000 screened nothing is said, as cases are over-represented."
        : `What the referral does to 1000 screened are shares of ${verification === "complete" ? "those whose condition is known" : "all screened, by the same correction as accuracy"}.`,
  },
  {
    isShown: table("How often the referral is right, by how common"),
    words: ({ verification }) =>
      `How often a referral is right where the condition is as common as the protocol says follows from sensitivity and specificity by Bayes' rule${verification === "complete" ? "" : ", both corrected"}.`,
  },
  {
    isShown: table("Differences within"),
    words: ({ acceptableDifference }) =>
      `The share of differences of M within ±${quantityText(acceptableDifference)}, an acceptable difference stated in advance, is a proportion of the eyes compared.`,
  },
  {
    isShown: table("Limits of M that change"),
    words: () =>
      "Limits of M that change with the refraction: linear bias, linear mean absolute residual, percentiles of the residuals over that spread.",
  },
  {
    isShown: (shown) => shown.row("Agreement, test minus reference", "M, weighted") !== "",
    words: () =>
      "Bias and limits of M are also weighted for who was examined: children who were examined stand for the others of the same decision.",
  },
  {
    isShown: (shown) => shown.figure("double-angle-difference") !== "",
    words: () =>
      "Differences of J0 and J45 are shown together on their plane, with ellipses of their mean and of single eyes, from their covariance.",
  },
  {
    isShown: table("By ", "Agreement of M by"),
    words: ({ subgroups }, shown) =>
      `Subgroups: ${subgroups.map(({ by, role }) => `by ${by} (${role})`).join(", ")}; each has intervals of its own${
        shown.note("By ", "p = ") || shown.note("By ", "p <")
          ? ", and that all groups share one rate is tested (Pearson's chi-square; where eyes of a child repeat, Rao and Scott 1992)"
          : ", without a test that all share one rate"
      }.`,
  },
  {
    isShown: table("Without a decision by the reading", "One rate, counted in each way"),
    words: ({ undecidable }) =>
      `Those without a decision by the reading are counted as fixed in advance (${undecidableWords[undecidable]}), and beside it in the other ways.`,
  },
  {
    isShown: table("If the exam errs"),
    words: () =>
      "What the exam's own error, as the protocol declares it, does to sensitivity and specificity is a sensitivity analysis by simulation and extrapolation (Cook and Stefanski 1994).",
  },
  {
    isShown: table("Limit chosen on these data"),
    words: ({ conditions, clusters }) =>
      `A limit was also chosen on these data (${[...new Set(conditions.flatMap(({ choose }) => (choose === undefined ? [] : [criterionWords(choose.criterion)])))].join("; ")}): its performance is given as it is on these data, corrected for optimism by a bootstrap of ${clusters === "site" ? "sites (Efron 1983), which below 40 of them gives no interval," : "children (Efron 1983)"} and cross-validated with whole ${clusters === "site" ? "sites" : "children"} in folds. Exploratory.`,
  },
  {
    isShown: table("One curve a condition", "The curve of the rule's own variable"),
    words: () =>
      "Where a rule leaves no single variable, each condition that it joins is set against its own variable of the reading.",
  },
  {
    isShown: table("What children were referred for"),
    words: () => "What rules referred for is set against what the exam found, child by child.",
  },
  {
    isShown: table("Other limits: "),
    words: () =>
      "Other limits are shown in coarse stops, so that no small count follows from two of them.",
  },
  {
    isShown: table("The programme in figures"),
    words: ({ programme }) =>
      `The programme in figures counts what it decided and who was examined${programme?.withinDays === undefined ? "" : `, within ${programme.withinDays} days as promised`}.`,
  },
];

/** A sentence for each analysis that the report shows, and none for another. */
export function shownMethods(shown: Shown, protocol: PublicProtocol): string[] {
  return analyses.flatMap(({ isShown, words }) => (isShown(shown) ? [words(protocol, shown)] : []));
}

function criterionWords(
  criterion: NonNullable<PublicProtocol["conditions"][number]["choose"]>["criterion"],
): string {
  if (criterion === "youden") return "the greatest Youden index";
  return "sensitivityAtLeast" in criterion
    ? `the greatest specificity with a sensitivity of at least ${criterion.sensitivityAtLeast}`
    : `the greatest sensitivity with a specificity of at least ${criterion.specificityAtLeast}`;
}
