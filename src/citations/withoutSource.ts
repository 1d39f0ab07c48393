import type { WithoutSource } from "./use.js";

const textbook = "in every textbook of statistics";
const own = "worked out here; the room's README says how, and how often its intervals hold";

/** Methods that results name and that no paper need be cited for. */
export const withoutSource: readonly WithoutSource[] = [
  { methods: ["given", "by definition", "degenerate", "none"], reason: "nothing is estimated" },
  {
    methods: [
      "t",
      "t-clusters",
      "clustered-t",
      "normal",
      "wald",
      "wald-difference",
      "symmetric",
      "logit",
      "logit-clustered",
      "log-t",
      "2 SE",
      "chi-square",
      "pearson",
      "exact",
      "approximate",
      "bonferroni",
      "order-statistics",
      "limits of agreement",
    ],
    reason: textbook,
  },
  {
    methods: [
      "jackknife",
      "log-jackknife",
      "site-jackknife",
      "site-jackknife-rough",
      "linearised-sites",
      "linearised-sites-rough",
      "t-sites",
      "t-sites-rough",
    ],
    reason: "a jackknife or a linearised variance, in every textbook of statistics",
  },
  { methods: ["interval"], reason: "that of the analysis, named in the plan" },
  {
    methods: [
      "draws",
      "verification-draws",
      "verification-draws-sites",
      "verification-draws-sites-rough",
      "exact-on-disjoint-pairs",
      "bands permuted among children of the same classes",
      "binormal",
      "binormal-logit-t",
      "simulation",
      "regression",
    ],
    reason: own,
  },
];
