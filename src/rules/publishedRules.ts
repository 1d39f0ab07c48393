import { aapos2013 } from "./published/aapos2013.js";
import { abnormalRefraction, examFailure2001, schoolExam2015 } from "./published/examFailures.js";
import { vipGroup1, vipGroup2, vipSignificant2014 } from "./published/visionInPreschoolers.js";

/**
 * Published target conditions by id: only limits whose number and relation were read in print. Where
 * the source leaves a quantity open, a template that `completeRule` turns into a rule; nothing
 * else is here, no treatment guideline, no preset of an instrument. All apply to findings.
 * As published; may be superseded; check the publication; your local protocol and licensed
 * practitioners decide who is referred.
 *
 * @example
 * publishedRules["abnormal-refraction-bjo"].kind // => "rule"
 * publishedRules["aapos-2013"].kind // => "rule-template"
 */
export const publishedRules = {
  "aapos-2013": aapos2013,
  "abnormal-refraction-bjo": abnormalRefraction,
  "exam-failure-2001": examFailure2001,
  "school-exam-2015": schoolExam2015,
  "vip-group-1": vipGroup1,
  "vip-group-2": vipGroup2,
  "vip-significant-2014": vipSignificant2014,
} as const;
