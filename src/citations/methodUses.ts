import type { MethodUse } from "./use.js";

/** Where the methods that results name come from. Of two that fit, the one that names the kind counts. */
export const methodUses: readonly MethodUse[] = [
  { methods: ["wilson"], standsFor: "intervals of proportions", sources: ["wilson1927"] },
  {
    methods: ["wilson-cc"],
    standsFor: "intervals of proportions with continuity correction",
    sources: ["newcombe1998single"],
  },
  {
    methods: ["wilson-clustered", "wilson-effective-rows", "wilson-on-children"],
    standsFor: "intervals of proportions where rows of a child repeat",
    sources: ["wilson1927", "rao1992"],
  },
  {
    methods: ["clopper-pearson", "clopper-pearson-on-sites"],
    standsFor: "exact intervals of proportions",
    sources: ["clopper1934"],
  },
  {
    methods: ["agresti-coull"],
    standsFor: "intervals of proportions",
    sources: ["agresti1998"],
  },
  { methods: ["jeffreys"], standsFor: "intervals of proportions", sources: ["brown2001"] },
  {
    methods: ["score"],
    standsFor: "score intervals of ratios of proportions and of odds ratios",
    sources: ["koopman1984", "cornfield1956"],
  },
  {
    methods: ["score-on-effective-size"],
    standsFor: "score intervals of ratios where rows of a child repeat",
    sources: ["koopman1984", "cornfield1956", "rao1992"],
  },
  {
    methods: ["log", "log-clustered"],
    standsFor: "intervals of ratios on the log scale",
    sources: ["katz1978", "simel1991", "woolf1955"],
  },
  {
    methods: ["log"],
    kinds: ["paired-accuracy"],
    standsFor: "ratios of predictive values on the same children",
    sources: ["moskowitz2006"],
  },
  {
    methods: ["log"],
    kinds: ["relative-rates"],
    standsFor: "intervals of relative rates",
    sources: ["schatzkin1987", "pepe2001"],
  },
  {
    methods: ["mover", "mover-clustered"],
    standsFor: "intervals of sums and differences of estimates",
    sources: ["zou2008"],
  },
  {
    methods: ["mover"],
    kinds: ["limits-of-agreement", "weighted-limits"],
    standsFor: "intervals of limits of agreement where rows of a child repeat",
    sources: ["zou2013"],
  },
  {
    methods: ["newcombe", "newcombe-independent"],
    standsFor: "differences of proportions of different children",
    sources: ["newcombe1998independent"],
  },
  {
    methods: ["newcombe-paired", "newcombe-on-children"],
    standsFor: "differences of proportions on the same children",
    sources: ["newcombe1998paired"],
  },
  {
    methods: ["newcombe"],
    kinds: ["paired-proportions", "paired-accuracy"],
    standsFor: "differences of proportions on the same children",
    sources: ["newcombe1998paired"],
  },
  {
    methods: ["newcombe"],
    kinds: ["non-inferiority"],
    standsFor: "differences of proportions",
    sources: ["newcombe1998paired", "newcombe1998independent"],
  },
  {
    methods: ["tango"],
    standsFor: "differences of proportions on the same children",
    sources: ["tango1998"],
  },
  {
    methods: ["linearised"],
    standsFor: "rates where rows of a child repeat",
    sources: ["rao1992"],
  },
  {
    methods: ["linearised"],
    kinds: ["paired-accuracy", "paired-proportions"],
    standsFor: "differences of rates on the same children where rows of a child repeat",
    sources: ["obuchowski1998", "durkalski2003", "moskowitz2006"],
  },
  {
    methods: ["mercaldo-logit"],
    standsFor: "predictive values at a stated prevalence",
    sources: ["mercaldo2007"],
  },
  {
    methods: ["rao-scott"],
    standsFor: "test of one rate for all groups where rows of a child repeat",
    sources: ["rao1992"],
  },
  {
    methods: ["multiple-imputation"],
    standsFor: "findings of unexamined children drawn many times",
    sources: ["harel2006", "rubin1987"],
  },
  {
    methods: ["simulation-extrapolation", "logit-jackknife-clusters"],
    standsFor: "what the exam's own error does to accuracy",
    sources: ["cook1994"],
  },
  { methods: ["fleiss"], standsFor: "intervals of kappa", sources: ["fleiss1969"] },
  {
    methods: ["exact", "exact-pair", "log-exact"],
    kinds: ["limits-of-agreement", "ratio-limits", "agreement-plan"],
    standsFor: "exact intervals of limits of agreement",
    sources: ["carkeet2015"],
  },
  {
    methods: ["approximate"],
    kinds: ["limits-of-agreement", "agreement-plan"],
    standsFor: "approximate intervals of limits of agreement",
    sources: ["bland1999"],
  },
  { methods: ["lu-2016"], standsFor: "size of a study of agreement", sources: ["lu2016"] },
  {
    methods: ["order-statistics-and-lines", "order-statistics-and-lines-rough"],
    standsFor: "limits of agreement that change with the refraction",
    sources: ["bland1999", "zou2008"],
  },
  {
    methods: ["order-statistics-mover"],
    standsFor: "the intercept of a Passing-Bablok line",
    sources: ["zou2008"],
  },
  {
    methods: ["t-robust"],
    standsFor: "errors of a line whose spread is not taken for constant",
    sources: ["mackinnon1985"],
  },
  {
    methods: ["t-cluster-robust", "log-t-cluster-robust", "linearised-cluster-robust"],
    standsFor: "errors where rows of a child repeat",
    sources: ["liang1986"],
  },
  {
    methods: ["hotelling"],
    standsFor: "regions of vectors of refraction",
    sources: ["hotelling1931"],
  },
  {
    methods: ["hotelling-cluster-robust"],
    standsFor: "regions of vectors of refraction where eyes of a child repeat",
    sources: ["hotelling1931", "liang1986"],
  },
  {
    methods: ["hotelling-sites"],
    standsFor: "regions of vectors of refraction with sites above children",
    sources: ["hotelling1931"],
  },
  {
    methods: ["simulation"],
    kinds: ["ellipse", "vector-agreement"],
    standsFor: "a region that holds a share of eyes with stated confidence",
    sources: ["krishnamoorthy2009"],
  },
  {
    methods: ["f", "f-satterthwaite"],
    standsFor: "intervals of the intraclass correlation",
    sources: ["shrout1979"],
  },
  {
    methods: ["asymptotic", "fisher-z", "fisher-z-jackknife-clusters"],
    kinds: ["concordance-correlation"],
    standsFor: "intervals of the concordance correlation",
    sources: ["lin1989", "lin2000"],
  },
  {
    methods: ["passing-bablok"],
    standsFor: "a line through two erring measurements",
    sources: ["passing1983"],
  },
  {
    methods: ["clusters", "sites", "exact-sites"],
    kinds: ["signed-rank-test"],
    standsFor: "signed ranks where rows of a child repeat",
    sources: ["rosner2006"],
  },
  {
    methods: ["dagostino-pearson"],
    standsFor: "test of the differences' shape",
    sources: ["dagostino1973"],
  },
  {
    methods: ["delong", "sum of variances"],
    standsFor: "areas under curves and their differences",
    sources: ["delong1988", "sun2014"],
  },
  {
    methods: ["delong-logit", "delong-logit-t"],
    standsFor: "intervals of areas under curves",
    sources: ["delong1988", "sun2014", "brunner2000"],
  },
  {
    methods: ["obuchowski"],
    standsFor: "areas under curves where rows of a child repeat",
    sources: ["obuchowski1997"],
  },
  {
    methods: ["obuchowski-logit", "obuchowski-logit-t"],
    standsFor: "intervals of areas under curves where rows of a child repeat",
    sources: ["obuchowski1997", "brunner2000"],
  },
  {
    methods: ["obuchowski", "obuchowski-logit", "obuchowski-logit-t"],
    kinds: ["area-plan"],
    standsFor: "size of a study of an area",
    sources: ["obuchowskiMcclish1997"],
  },
  {
    methods: ["hanley-mcneil", "hanley-mcneil-logit", "hanley-mcneil-logit-t"],
    standsFor: "areas under curves",
    sources: ["hanley1982"],
  },
  {
    methods: ["maximum likelihood", "maximum likelihood, normal scale"],
    kinds: ["binormal-curve"],
    standsFor: "a smooth curve",
    sources: ["dorfman1969"],
  },
  { methods: ["trapezoids"], standsFor: "a part of the area", sources: ["mcclish1989"] },
  {
    methods: ["youden"],
    kinds: ["threshold-choice"],
    standsFor: "the criterion of the chosen limit",
    sources: ["youden1950"],
  },
  {
    methods: [
      "bootstrap",
      "bootstrap-basic",
      "bootstrap-percentile",
      "cluster-bootstrap-percentile",
      "bootstrap of rows",
      "bootstrap of children",
      "bootstrap of sites",
    ],
    standsFor: "intervals from resamples",
    sources: ["efron1979"],
  },
  { methods: ["bootstrap-bca"], standsFor: "intervals from resamples", sources: ["efron1987"] },
  {
    methods: ["nested-bootstrap, approximate"],
    standsFor: "intervals of rates corrected for optimism",
    sources: ["noma2021"],
  },
  {
    methods: ["taylor-t", "taylor-logit"],
    standsFor: "errors of a survey with strata and sampling units",
    sources: ["binder1983"],
  },
];
