import { sourcesInText } from "../../citations/index.js";
import { ownVersion } from "../../platform/index.js";
import { methodName } from "../../results/index.js";
import { percent } from "../../rows/index.js";
import type { CoarseStudy } from "../coarse/coarseStudy.js";
import type { ConditionWords } from "../coarse/conditionWords.js";
import type { PublicLimits } from "../coarse/publicLimits.js";
import type { ProgrammeSource } from "../run/programmeOf.js";
import { policyWords, referralWords } from "../run/referralWords.js";
import type { SimultaneousRates } from "../run/simultaneousRates.js";
import type { StudyResult } from "../run/studyResult.js";
import { waysOfCounting } from "./reconciliation.js";
import type { Shown } from "./shownIn.js";
import { selectionMethods, shownMethods } from "./shownMethods.js";
import { samplesWords } from "./validationSection.js";

/** What the methods say beside the protocol: no number of children. */
export interface MethodFacts {
  readonly protocol: CoarseStudy["protocol"];
  readonly protocolHash: string;
  readonly agreement: readonly { readonly limits: Pick<PublicLimits, "multiplier" | "interval"> }[];
  readonly conditions: readonly ConditionWords[];
  /** Of the interval of a share, and of the area where there is one. */
  readonly shareMethod: string;
  readonly areaMethod: string | null;
  /** Where the programme's decision is known from; null where everybody was examined. */
  readonly decision: ProgrammeSource["source"] | null;
  /** Whether areas are also weighted for who was examined. */
  readonly weighted: boolean;
  /** Of intervals that hold together, where several conditions are confirmatory. */
  readonly simultaneous: Pick<SimultaneousRates, "comparisons" | "level"> | null;
  /** How many sites the intervals count, where that is for the reader. */
  readonly sites: number | undefined;
}

/** The facts of a result. */
export function methodFacts(result: StudyResult): MethodFacts {
  const { conditions } = result;
  const area = conditions.find((condition) => condition.area.kind === "estimate")?.area;
  const curves = conditions.flatMap(({ rules }) => rules?.curves ?? []);
  return {
    ...result,
    shareMethod: conditions[0]!.accuracy.method,
    simultaneous: conditions.find((condition) => condition.simultaneous)?.simultaneous ?? null,
    sites: result.agreement[0]!.limits.sites,
    areaMethod: area?.kind === "estimate" ? area.method : null,
    decision:
      conditions.find((condition) => condition.verification)?.verification?.programme.source ??
      null,
    weighted:
      conditions.some((condition) => condition.weighted?.area.kind === "estimate") ||
      curves.some(({ weightedArea }) => weightedArea?.kind === "estimate"),
  };
}

/** The methods in words, from the protocol and from what the report shows, with their sources. */
export function methodsText(facts: MethodFacts, shown: Shown): string[] {
  const { protocol, agreement, conditions, shareMethod, areaMethod } = facts;
  const { eye, unit, level } = protocol;
  const eyes = {
    right: "right eyes, one eye a child",
    left: "left eyes, one eye a child",
    both: "both eyes; intervals account for two eyes of a child",
    worse:
      "the worse eye of each child who has both, taken of the reading and of the finding separately",
    random:
      "one eye a child, drawn by the seed: of two complete eyes for agreement, of two screened eyes, read or not, for referral",
  };
  const limits = agreement[0].limits;
  return [
    `Index test: ${protocol.indexTest.description}. Reference standard: ${protocol.referenceStandard.description}. Unit of analysis: ${unit} (${eyes[eye]}).`,
    ...authorsTexts(protocol),
    ...(protocol.samples === undefined
      ? []
      : [
          `${samplesWords(protocol)} ${protocol.audience === "public" ? "Each is made coarse on its own; both are reported at the limits fixed in advance" : "Limits are chosen on the development sample alone and reported on the validation sample"}; samples that share a child are refused.`,
        ]),
    selectionMethods(protocol),
    agreement.length > 1
      ? "Prescriptions were turned into power vectors (M, J0, J45; Thibos, Wheeler and Horner 1997). A difference is always test minus reference."
      : "The spherical equivalent M alone is compared: sphere and half the cylinder, or M as the files state it. A difference is always test minus reference.",
    `Limits of agreement, two summaries: percentiles with order-statistic intervals on the effective number of eyes; and, right if the differences are normal, bias ± ${limits.multiplier.toFixed(2)} SD (Bland and Altman 1986, 1999), ${percent(level)} intervals by the method "${methodName(limits.interval)}"${limits.interval === "exact" ? " (noncentral t, each limit on its own; Carkeet 2015), which assumes independent, normal differences" : ""}.`,
    `Target conditions and referral limits were fixed in the protocol: ${conditions.map((item) => `${item.title} (${item.definition === "own" ? "an own definition" : item.citation}): ${item.target} at the exam, referred ${referralWords(item)}`).join("; ")}. Values are compared after rounding to 0.001 D.`,
    ...ruleMethods(facts),
    `Sensitivity, specificity and other proportions: ${cited(shareMethod)} intervals${areaMethod !== null ? `; area under the ROC curve: ${cited(areaMethod)}` : ""}. Verification: ${protocol.verification}${strata(protocol)}; sampling: ${protocol.sampling}. Children whom the reading cannot decide: ${policyWords[protocol.undecidable]}.`,
    ...together(facts),
    ...overSites(facts, shown),
    ...correction(facts),
    ...shownMethods(shown, protocol),
    `Software: Meridional ${ownVersion()}. Protocol hash (SHA-256 of the choices): ${facts.protocolHash}. Seed ${protocol.seed}.`,
  ];
}

/** A method as print names it, with its sources. */
function cited(method: string): string {
  const sources = sourcesInText(method);
  return `${methodName(method)}${sources === "" ? "" : ` (${sources})`}`;
}

/** What only the author knows, in the protocol's words. */
function authorsTexts({ rationale, setting, masking }: MethodFacts["protocol"]): string[] {
  return [
    ...(rationale === undefined ? [] : [`Rationale: ${rationale}`]),
    ...(setting === undefined ? [] : [`Setting: ${setting}`]),
    ...(masking === undefined ? [] : [`Masking: ${masking}`]),
  ];
}

/** How intervals hold together where several conditions are confirmatory. */
function together({ simultaneous, protocol }: MethodFacts): string[] {
  if (simultaneous === null) return [];
  const { comparisons, level } = simultaneous;
  return [
    `${comparisons / 2} conditions are confirmatory: beside each interval of their sensitivities and specificities stands one at ${percent(level)}, so that all ${comparisons} hold together at ${percent(protocol.level)} (Bonferroni). Exploratory conditions have no such interval.`,
  ];
}

/** What stands above children, and how many sites the intervals count. */
function overSites({ protocol, sites, decision, weighted }: MethodFacts, shown: Shown): string[] {
  if (protocol.clusters !== "site") return [];
  const isWeighted = weighted || shown.row("Agreement, test minus reference", "M, weighted") !== "";
  const alsoWeighted = isWeighted
    ? " Numbers weighted for who was examined are jackknifed likewise, their weights estimated anew without each site."
    : "";
  const programme =
    shown.table("The programme in figures") === ""
      ? ""
      : " So are shares of the programme's figures; those of single sites have intervals by child.";
  const corrected =
    decision === null
      ? ""
      : " Intervals corrected for who was examined are widened on the logit scale by the root of the jackknife's variance over that of independent children, and by the same t.";
  const few =
    sites !== undefined && sites < 5
      ? " With fewer than 5 sites these intervals are rough; with fewer than 2 there are none."
      : "";
  return [
    `Children of one site are not independent: intervals of bias, limits, sensitivity, specificity, predictive values, ratios and areas are delete-one-site jackknifes over ${sites ?? "the"} sites with Student's t on the effective number of sites less 1 (rates and areas on the logit scale); percentile limits count effective rows over sites.${few} The ellipse of mean astigmatism is of the jackknife's covariance; with sites that count as 4 or fewer its figure is left out.${corrected}${alsoWeighted}${programme}`,
  ];
}

/** How accuracy was corrected for who was examined, where not everybody was. */
function correction({ decision }: MethodFacts): string[] {
  if (decision === null) return [];
  const sources = {
    recorded: "as it was recorded",
    computed: "computed by the rule that the protocol declares for it, as it was not recorded",
    studied: "taken to be that of the referral under study, as it was not recorded",
  };
  return [
    `Accuracy is ${waysOfCounting.corrected} (Begg and Greenes 1983), in groups of the programme's decision, ${sources[decision]}, and of the referral under study; intervals are percentiles of seeded draws of group sizes and rates (gamma and beta). Bounds give each unexamined child the condition or not.`,
  ];
}

function strata({ verificationStrata }: MethodFacts["protocol"]): string {
  return verificationStrata === undefined
    ? ""
    : `, children drawn within groups by ${verificationStrata.by}`;
}

/** How rules and weights are read, where there are any. */
function ruleMethods({ conditions, protocol, weighted }: MethodFacts): string[] {
  return [
    ...(conditions.every(({ rules }) => rules === null)
      ? []
      : [
          "Rules are applied by child, each with eyes of its own, and have three values (strong logic of Kleene 1952): one limit crossed refers even where the other eye is unreadable; nothing crossed with something missing is undecidable. Children whom a rule cannot decide by their age are left out and counted.",
        ]),
    ...(weighted
      ? [
          `Where passes were examined in part, areas are also weighted by the inverse of the share examined (Alonzo and Pepe 2005): children examined because they were referred, or drawn, stand for the others of the same decision of the programme${protocol.verificationStrata === undefined ? "" : " and group"}, which is right only if being examined depended on nothing else${protocol.clusters === "site" ? "" : `; weights are estimated anew in each of ${Math.max(2, protocol.replicates)} resamples of children`}.`,
        ]
      : []),
  ];
}
