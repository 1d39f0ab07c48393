import type { AnalysisUse } from "./use.js";

/** Where analyses come from, whatever the method of their intervals. */
export const analysisUses: readonly AnalysisUse[] = [
  {
    kinds: ["study", "report", "vector-agreement", "double-angle-summary"],
    standsFor: "power vectors",
    sources: ["thibos1997"],
  },
  {
    kinds: ["study", "report"],
    standsFor: "checklist of a report of accuracy (STARD)",
    sources: ["bossuyt2015"],
  },
  {
    kinds: ["study", "report"],
    standsFor: "checklist of a report of agreement (GRRAS)",
    sources: ["kottner2011"],
  },
  {
    kinds: ["limits-of-agreement", "weighted-limits", "survey-limits", "agreement-plan"],
    standsFor: "limits of agreement",
    sources: ["bland1986", "bland1999"],
  },
  {
    kinds: ["regression-limits"],
    standsFor: "limits of agreement that change with the refraction",
    sources: ["bland1999"],
  },
  {
    kinds: ["conditional-band"],
    standsFor: "a band that holds for all refractions at once",
    sources: ["scheffe1953"],
  },
  {
    kinds: ["folded-distribution"],
    standsFor: "the folded distribution of differences",
    sources: ["krouwer1995"],
  },
  {
    kinds: ["bias-by"],
    standsFor: "test of one bias for all groups",
    sources: ["brown1974", "mehrotra1997"],
  },
  { kinds: ["repeatability"], standsFor: "repeatability", sources: ["bland1999"] },
  {
    kinds: ["intraclass-correlation"],
    standsFor: "the intraclass correlation",
    sources: ["shrout1979"],
  },
  {
    kinds: ["concordance-correlation"],
    standsFor: "the concordance correlation",
    sources: ["lin1989", "lin2000"],
  },
  {
    kinds: ["deming-regression"],
    standsFor: "a line through two erring measurements",
    sources: ["linnet1993"],
  },
  { kinds: ["signed-rank-test"], standsFor: "signed ranks", sources: ["wilcoxon1945"] },
  {
    kinds: ["calibration", "predicted-finding"],
    standsFor: "limits of a predicted finding",
    sources: ["lei2018"],
  },
  {
    kinds: ["paired-proportions", "relative-rates"],
    standsFor: "test of equal proportions on the same children",
    sources: ["mcnemar1947", "fagerland2013"],
  },
  {
    kinds: ["relative-rates"],
    standsFor: "rates relative to another rule where only those positive on either were examined",
    sources: ["schatzkin1987", "pepe2001"],
  },
  {
    kinds: ["predictive-values", "predictive-values-range"],
    standsFor: "predictive values at a stated prevalence",
    sources: ["mercaldo2007"],
  },
  {
    kinds: ["corrected-accuracy"],
    standsFor: "accuracy corrected for who was examined",
    sources: ["begg1983"],
  },
  {
    kinds: ["imputed-accuracy"],
    standsFor: "accuracy with findings of unexamined children drawn many times",
    sources: ["harel2006", "rubin1987"],
  },
  {
    kinds: ["verification-weights", "weighted-accuracy"],
    standsFor: "the examined standing for the unexamined",
    sources: ["begg1983", "alonzo2005"],
  },
  {
    kinds: ["imperfect-reference"],
    standsFor: "what the exam's own error does to accuracy",
    sources: ["cook1994"],
  },
  {
    kinds: ["net-benefit", "net-benefit-comparison"],
    standsFor: "net benefit",
    sources: ["vickers2006"],
  },
  { kinds: ["cohen-kappa"], standsFor: "kappa", sources: ["cohen1960", "cohen1968"] },
  {
    kinds: ["several-areas"],
    standsFor: "comparison of several areas",
    sources: ["delong1988"],
  },
  { kinds: ["binormal-curve"], standsFor: "a smooth curve", sources: ["dorfman1969"] },
  { kinds: ["partial-area"], standsFor: "a part of the area", sources: ["mcclish1989"] },
  {
    kinds: ["threshold-choice", "rule-search"],
    standsFor: "rates of a chosen limit corrected for optimism",
    sources: ["efron1983"],
  },
  {
    kinds: ["rule-search"],
    standsFor: "rules that cannot be told from the chosen one",
    sources: ["beran1988"],
  },
  {
    kinds: ["kept-constraint"],
    standsFor: "a constraint kept with stated assurance",
    sources: ["deBruijn1951"],
  },
  {
    kinds: ["accuracy-plan"],
    standsFor: "size of a study of accuracy",
    sources: ["buderer1996"],
  },
  { kinds: ["funnel-limits"], standsFor: "funnel limits", sources: ["spiegelhalter2005"] },
  {
    kinds: ["share-distributions"],
    standsFor: "standardised difference of two groups",
    sources: ["austin2009"],
  },
  {
    kinds: ["printed-mean"],
    standsFor: "whether a printed mean and SD can arise",
    sources: ["brown2017", "anaya2016"],
  },
];
