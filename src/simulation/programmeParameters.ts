import { parameter } from "./parameter.js";

/** The exam: cycloplegic refraction and its errors. */
export const reference = {
  errorSd: parameter(0.17, "D", "SD .17 to .29 D (Rauscher 2019)", "error of M, one eye"),
  j0Sd: parameter(0.1, "D", "invented", "error of J0"),
  j45Sd: parameter(0.08, "D", "invented", "error of J45"),
  step: parameter(0.25, "D", "common practice, no source", "step of sphere and cylinder"),
  inadequateShare: parameter(0.05, "share", "invented", "children with inadequate cycloplegia"),
  inadequateLeft: parameter(0.4, "ratio", "invented", "share of the table shift left in those"),
  inadequateKnown: parameter(0.5, "share", "invented", "of those, recorded as inadequate"),
  delayMean: parameter(60, "days", "invented", "mean of the exponential delay to the exam"),
  progression: parameter(0.5, "D/year", "invented", "myopic shift until the exam, myopic eyes"),
} as const;

/** Repeats, re-screening, who comes to the exam, who is examined after a pass. */
export const programme = {
  repeats: parameter(1, "readings", "design", "readings of each eye at the first attempt"),
  attempts: parameter(1, "attempts", "design", "attempts while an eye gives no measurement"),
  refersUndecidable: parameter(1, "0 or 1", "design", "whether an undecidable child is referred"),
  departures: parameter(0, "share", "invented", "decisions recorded against the rule"),
  followUp: parameter(0.45, "logit", "67 % of referred (Law 2020)", "exam of the referred"),
  followUpResult: parameter(0.3, "logit", "invented", "added if a limit was crossed"),
  followUpSite: parameter(0.3, "logit", "invented", "added per site, spread evenly about 0"),
  followUpAge: parameter(-0.05, "logit/year", "invented", "added per year of age past 5"),
  followUpDisease: parameter(
    0,
    "logit",
    "design (0 at random; .5 not)",
    "added with the condition",
  ),
  passesSampled: parameter(0, "share", "design (0, 5, 10, 40 %)", "passes examined at random"),
  passesSelfPresented: parameter(0.005, "share", "invented", "passes who come by themselves"),
  selfPresentedOdds: parameter(5, "odds ratio", "invented", "the same, if diseased"),
} as const;
