const names: { readonly [method: string]: string } = {
  "agresti-coull": "Agresti-Coull",
  "bootstrap-percentile": "bootstrap percentiles",
  "clopper-pearson": "Clopper-Pearson",
  "cluster-bootstrap-percentile": "bootstrap of children, percentiles",
  delong: "DeLong",
  "delong-logit": "DeLong on the logit scale",
  "delong-logit-t": "DeLong on the logit scale, Student's t",
  "exact-pair": "exact for both limits together",
  "fisher-z": "Fisher's z",
  "fisher-z-jackknife-clusters": "Fisher's z, jackknife of children",
  jeffreys: "Jeffreys",
  "linearised-cluster-robust": "linearised, by child",
  "log-t-cluster-robust": "Student's t on the log scale, by child",
  "mercaldo-logit": "logit at a known prevalence (Mercaldo)",
  mover: "MOVER",
  "mover-clopper-pearson": "MOVER from Clopper-Pearson limits",
  "mover-clustered": "MOVER, by child",
  "mover-wilson": "MOVER from Wilson limits",
  "multiple-imputation": "multiple imputation",
  "nested-bootstrap, approximate": "nested bootstrap, approximate",
  "newcombe-independent": "Newcombe, independent",
  "newcombe-paired": "Newcombe, paired",
  obuchowski: "Obuchowski, by child",
  "obuchowski-logit-t": "Obuchowski by child on the logit scale, Student's t",
  "order-statistics": "order statistics",
  "order-statistics-and-lines": "order statistics and errors of the lines",
  "order-statistics-and-lines-rough":
    "order statistics and errors of the lines over few sites, rough",
  "order-statistics-mover": "MOVER from order statistics and the slope",
  "passing-bablok": "Passing-Bablok",
  t: "Student's t",
  "t-cluster-robust": "Student's t, errors by child",
  "t-clusters": "Student's t over children",
  "t-robust": "Student's t, errors of unlike spread",
  "t-sites": "Student's t, errors by site",
  "t-sites-rough": "Student's t, errors by few sites, rough",
  tango: "Tango",
  "verification-draws": "draws of sizes and rates",
  wald: "Wald",
  "wald-difference": "Wald",
  wilson: "Wilson",
  "wilson-cc": "Wilson, continuity-corrected",
  "wilson-clustered": "Wilson, by child",
  "wilson-effective-rows": "Wilson on effective rows",
  "wilson-on-children": "Wilson on the number of children",
};

/**
 * The method of an interval as print names it; a method without such a name as it is.
 */
export function methodName(method: string): string {
  return Object.hasOwn(names, method) ? names[method]! : method;
}
