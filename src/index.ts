// The public face: named exports only, by chapter, in the order in which the data flow.

// results: the shapes that results share
export type {
  Estimate, // A number estimated from data, with the interval that goes with it.
  FigureSpec, // A figure as data: a Vega-Lite specification with what a page needs around it.
  TableModel, // A table as data: unrounded numbers; rounding and escaping happen in the writer.
  TwoByTwo, // Counts of a yes/no test against a yes/no condition.
  Undefined, // What could not be estimated, and why.
} from "./results/index.js";
export {
  caution, // Shown by every report, notebook and command that prints accuracy, a threshold or a prediction.
  InputError, // A caller's mistake: names the function, what it requires and what it got.
} from "./results/index.js";

// refraction: the arithmetic of one eye and of two
export {
  addPrescriptions, // Thin lenses in contact as one: crossed cylinders, or a worn correction plus the over-refraction.
  astigmatismOrientation, // Orientation of astigmatism, by the axis in minus-cylinder form.
  type AstigmatismOrientation, // Orientation of astigmatism by its axis.
  atVertex, // The lens with the same effect at another vertex distance.
  averagePrescriptions, // The average of prescriptions, through their power vectors and never of axes.
  blurStrength, // Blur strength, B: the length of the power vector, `sqrt(M² + J0² + J45²)`, in dioptres; never negative.
  combinePrisms, // A horizontal and a vertical deviation as one, in prism dioptres.
  type CylinderSign, // The sign in which a cylinder is written.
  decimalToLogMAR, // Decimal acuity as logMAR, `-log10(decimal)`.
  formatPrescription, // A prescription in clinic notation.
  fromPowerMatrix, // The prescription of a power matrix, in minus-cylinder form unless asked otherwise.
  gazeToPrism, // A deviation of gaze in degrees as prism dioptres, `100 tan(angle)`; the sign stays.
  interocularDifference, // Difference between the two eyes by five definitions, which can disagree by the whole cylinder.
  type InterocularDifference, // Five definitions of the difference between two eyes, all unsigned and in dioptres.
  logMARToDecimal, // logMAR as decimal acuity, `10^-logMAR`.
  logMARToSnellen, // A logMAR value as Snellen fraction at a stated distance, the denominator to one decimal.
  meridionalPower, // Power of a lens along a meridian: `M + J0 cos 2t + J45 sin 2t`, which is `S + C sin²(t - A)`, in dioptres.
  mirrorEye, // The mirror image of an eye: J45 changes sign, M and J0 stay (axis A becomes 180 - A).
  parsePrescription, // A prescription from clinic notation, as charts and exports write it.
  type PowerMatrix, // Symmetric dioptric power matrix, rows first, x to 0 degrees and y to 90.
  type PowerVector, // A lens as three independent components, in dioptres (Thibos, Wheeler and Horner 1997).
  type PowerVectorColumns, // Power vectors as columns; NaN is a component that cannot be had.
  type Prescription, // A spherocylindrical lens in either cylinder sign, in dioptres and degrees.
  type PrescriptionColumns, // Prescriptions as columns of one length; NaN is missing.
  prismToGaze, // Prism dioptres as degrees, the inverse of `gazeToPrism`.
  pupilDifference, // Unsigned difference of the pupil diameters of two eyes, in millimetres.
  roundToStep, // Rounds to the nearest multiple of a step, halves away from zero.
  snellenToLogMAR, // A Snellen fraction as logMAR, `log10(denominator / numerator)`.
  sphericalEquivalent, // Spherical equivalent, M: sphere plus half the cylinder, in dioptres; needs no axis.
  toPowerMatrix, // The dioptric power matrix of a lens, `[[M + J0, J45], [J45, M - J0]]`.
  toPowerVector, // The power vector of a prescription: `M = S + C/2`, `J0 = -(C/2) cos 2A`, `J45 = -(C/2) sin 2A`.
  toPowerVectors, // Power vectors of whole columns, each row the same to the last bit as `toPowerVector`.
  toPrescription, // The prescription of a power vector, in minus-cylinder form unless asked otherwise.
  transpose, // The same lens in the other cylinder sign.
} from "./refraction/index.js";

// inference: intervals, distributions, seeded random numbers, resampling
export {
  type BootstrapEstimate, // An estimate with how it was resampled.
  bootstrap, // Bootstrap interval of any statistic of rows (Efron 1979).
  createRandom, // Seeded random numbers: xoroshiro128+ (Blackman and Vigna 2018), by pure-rand.
  meanInterval, // The mean with its two-sided interval by Student's t (1908): independent values; exact when they are normal.
  type JackknifeScale, // Scale on which an interval is symmetric.
  siteJackknife, // The same for any statistic of rows.
  type PairedCounts, // Two yes/no results of the same n units.
  proportionInterval, // A proportion with its two-sided interval, for independent trials.
  type Random, // A seeded source of random numbers.
  type SurveyEstimate, // A weighted estimate of a survey, with its design.
  surveyMean, // The weighted mean of a survey with strata and sampling units.
  surveyShare, // The weighted share of rows with a yes, such as a prevalence, of a survey with strata and sampling units.
} from "./inference/index.js";

// privacy: identifiers, pseudonyms, small cells
export {
  type Audience, // Who will see a result: the public sees no mark for one eye, and no small count.
  type CountedRow, // One line of a list of estimates: a group, a site, an age band, or all together.
  type PairedColumns, // Rows measured by both methods.
  type ShownPairs, // What an audience may see of a set of eyes with two numbers each.
  suppressSmallCells, // A table for the public.
} from "./privacy/index.js";
export {
  hashedPseudonyms, // Keyed hashes of subjects (HMAC-SHA-256, 64 bits of it): pseudonymised, derived from the record number.
  randomPseudonyms, // Random study numbers for subjects, without repetition and in no relation to the subjects' order.
} from "./privacy/index.js";

// cohort: reading files, linking readings to findings, the participant flow
export {
  type AlignedMeasurements, // Several measurements of the same eyes as columns, one row an eye that any of them knows.
  alignMeasurements, // Lays several measurements of the same eyes side by side: instruments, visits, examiners, a finding.
  type ChildColumns, // Children as columns; the row numbers point into readings and findings, -1 where there is none.
  type ChildValues, // One value of test and reference a child, with those left out.
  type Cohort, // Readings and findings linked by child and eye.
  type ColumnMapping, // A column mapping; see `defineColumns`.
  childValues, // One value a child of reading and of finding.
  defineColumns, // Checks a column mapping and returns it.
  type EyePairs, // Test and reference of each eye, as columns of one row an eye.
  eyePairs, // The reading and the finding of every eye that has both, in the order of the children.
  type Findings, // Later exam findings as columns.
  linkCohort, // Links readings to findings by subject and eye.
  type MeasurementPairs, // Two measurements of each eye as columns; a difference is first minus second.
  pairMeasurements, // Pairs two measurements of the same eyes, whatever they are.
  type ParticipantFlow, // Who was in either file, who was left out and why, step by step.
  type Problem, // One cell, or row, of a file that needs a person's decision.
  type PairingReport, // How readings and findings met, by child; a child's first eye with both, right before left, counts.
  type PowerVectorPairs, // Reading and finding of each eye as power vectors, ready for `vectorAgreement`; one row an eye.
  powerVectorPairs, // The reading and the finding of every eye as power vectors M, J0, J45 in dioptres, computed from sphere.
  pairingReport, // How the two files met.
  pairingTable, // The report as a table.
  problemsByRule, // How often each rule was broken, most frequent first.
  type Readings, // Screening readings as columns.
  readFindings, // Reads exam findings from a file or from rows in memory into columns, with the same care as `readReadings`.
  readReadings, // Reads screening readings from a file or from rows in memory into columns.
  type Source, // A path to a CSV, TSV (gzipped too), XLSX or Parquet file, rows, or delimited text.
  atVertexPlane, // Readings or findings as they would be at another vertex plane, in millimetres from the cornea.
  auditFile, // Everything that a file needs decisions about.
  auditIdentifiers, // Looks through every name and every cell of a table for what looks like a direct identifier.
  type CombinedRepeats, // Readings with the repeats of an eye made into one, and how many were.
  combineRepeats, // Repeats of an eye made into one reading through power vectors, never by averaging axes.
  type DeidentificationLog, // What was taken out of a file, changed in it, and kept.
  deidentify, // Writes a copy of a table with fewer identifiers.
  describeCohort, // The baseline table: age, site, refraction, status of the reading and confidence of right eyes.
  type FileAudit, // What one file needs decisions about: identifiers and problems.
  type IdentifierAudit, // Columns and values of a file that look like identifiers.
  type ProblemsByRule, // How often each rule was broken.
  type CohortTable, // A cohort as a table, one row an eye that either file knows, for slicing.
  cohortTable, // A cohort as a table, one row an eye that either file knows, in the order of the children, right before left.
  filterEyes, // The eyes for which a condition holds.
  sortEyes, // The eyes in the order of a column, or of what is worked out of a row; ties stay in their order.
  groupEyes, // The eyes of each group, as a table of its own.
  type EyeGroup, // The eyes of one group.
  countEyes, // How many eyes, and children, each group has.
  type EyeCounts, // How many eyes each group has.
  summariseEyes, // A number described, over all eyes or in each group.
  type EyeSummary, // One value described in each group of eyes.
  type EyeRow, // One row of a table of eyes, as a condition or a grouping sees it.
  eyesAsTable, // A table of eyes for `toCsv`, `toWord`, `toWorkbook` and `toFrame`.
  type ShareDistributions, // One quantity in several groups, in the same bins.
  shareDistributions, // Distributions of one quantity in groups, as shares of each.
  suspectedMismatches, // What only both sources together can show.
  examsBeforeScreening, // Findings of a day before the child's reading, with their lines; nothing is left out.
  suspectedSharedNumbers, // Children whose rows seem to be several children under one number.
} from "./cohort/index.js";

// prepare: from raw exports to study-ready files
export {
  type Preparation, // What was found in raw files, what was decided, and what is still asked.
  prepareFiles, // From raw exports to study-ready files.
} from "./prepare/index.js";

// accuracy: how often a referral is right
export {
  type Accuracy, // The ten measures with what made them.
  type AccuracyByGroup, // Accuracy group by group, in order of first appearance.
  type AccuracyDesign, // What decides which measures the counts can give.
  type AccuracyRows, // Rows of a test and a condition; with `subjects` (or `clusters`) where a child may have several.
  type AccuracySource, // Sensitivity and specificity from a table, or as numbers or estimates made elsewhere.
  accuracyByGroup, // Accuracy in each group.
  accuracyFromCounts, // Accuracy of a yes/no test from its four counts, for independent rows (one a child, or one eye of each.
  type ClusteredAccuracy, // The ten measures of rows that cluster in children.
  type CohenKappa, // Agreement beyond chance of two ratings of the same rows.
  type CorrectedAccuracy, // Accuracy of all screened children, the unexamined ones standing behind the examined.
  clusteredAccuracy, // Accuracy from rows of which several may belong to one child, such as two eyes.
  cohenKappa, // Cohen's kappa: agreement beyond that of the margins, 1 at full agreement.
  compareIndependentAccuracy, // Compares accuracy in two different groups of children.
  compareIndependentProportions, // Difference and ratio of two proportions in different, independent children.
  compareNetBenefit, // Difference of the net benefits of two rules on the same, completely examined rows, first minus second.
  comparePairedAccuracy, // Compares two rules on the same rows.
  comparePairedProportions, // Two yes/no results of the same independent units, such as two rules on the same children.
  correctByDecision, // Accuracy of a rule in all screened children.
  correctVerification, // Sensitivity and specificity when only some children were examined.
  countVerification, // Sorts the children of a programme into examined and unexamined, one row a child.
  crossClassify, // Counts of test by condition, one row a child (or an eye).
  type DecisionColumns, // What a programme decided of screened children, what a rule says of them, and who was examined.
  type ImputedAccuracy, // Accuracy pooled over imputed completions.
  type InconclusivePolicy, // How an exam without an answer is counted.
  type InconclusiveVariants, // Inconclusive exams, counted in every way or in the one stated beforehand, and their bounds.
  type IndependentAccuracy, // Accuracy in two different groups of children; differences are first minus second.
  type IndependentProportions, // Two proportions of different children.
  imputeVerification, // Multiple imputation of the unexamined.
  inconclusiveVariants, // Accuracy when the reference standard gave no answer for some children (a 2x3 table).
  type ImperfectReference, // What an imperfect reference does to sensitivity and specificity; beside the headline, not in its place.
  type KappaWeights, // "linear" and "quadratic" weigh a disagreement by its distance in grades, or by its square.
  type NetBenefit, // A rule as a line over threshold probabilities.
  type NetBenefitComparison, // Net benefit of two rules on the same rows, and their difference, first minus second.
  type NonInferiority, // Whether a difference, new minus established, excludes a loss as great as the margin.
  imperfectReference, // Sensitivity analysis for a reference that errs.
  netBenefit, // Net benefit of one referral rule, TP/n - FP/n x t/(1 - t), over threshold probabilities t.
  nonInferiority, // Judges a difference (new minus established, greater is better) against a margin stated beforehand.
  type PairedAccuracy, // Two rules on the same rows; every difference is the first minus the second.
  type PairedMethod, // How the interval of a paired difference is made.
  type PairedProportions, // Two proportions of the same units and their difference, first minus second.
  type PositiveOnEither, // Children positive on one rule or both, on one side of the condition.
  type PredictiveMethod, // "logit": Mercaldo, Lau and Zhou 2007; "score": from Koopman's interval of the likelihood ratio.
  type PredictiveValues, // Predictive values in a population of one prevalence.
  type PredictiveValuesRange, // Predictive values over a range of prevalences, in the order given.
  type ProgrammeCosts, // Costs in any one currency, as the user gives them.
  type ProgrammeCounts, // What a programme knows without examining a single pass.
  type Proportion, // Successes among trials.
  predictiveValuesAt, // Predictive values in another population, by Bayes' rule at a stated prevalence.
  type ReferralYield, // What a case found costs in referrals, exams and money.
  type RelativeRates, // What can be compared when nobody negative on both rules was examined.
  referralYield, // Number referred for each case found, cases found for 1000 children screened, and, from costs the user gives.
  relativeRates, // Relative true and false positive rates of two rules on the same children when only those positive on either ...
  type Sampling, // Rows as they came, or chosen by their condition.
  type StandardisedAccuracy, // Accuracy weighted to the groups of another population.
  standardiseAccuracy, // Direct standardisation.
  type TippingPoint, // How bad the unexamined passes would have to be to change the conclusion.
  tippingPoint, // A table of the corrected accuracy against the unknown.
  type UnreadableBounds, // The least and the greatest accuracy the unreadable children allow.
  type UnreadableVariants, // The unreadable children, counted in every way or in the one stated beforehand.
  type Unverified, // Children whose condition is unknown, by test result.
  unreadableBounds, // Worst and best case of unreadable children as a low and a high.
  unreadableVariants, // Accuracy with unreadable children referred, passed, or left out, side by side.
  type Verification, // Who was examined: everyone, everyone positive and a part of the negatives, or only positives.
  type VerificationBounds, // The least and the greatest accuracy that the unexamined children allow.
  type VerificationCells, // Children sorted by who stands for whom, with every known child kept.
  type VerificationCount, // What `correctVerification` takes, with the findings that may not enter it.
  type VerificationCounts, // Counts of the examined and of the unexamined; arrays are strata, in one order.
  type VerificationWeights, // Who stands for others, and in which stratum; `kept` are the rows that the policy leaves in.
  verificationBounds, // What the accuracy would be at the two extremes of the unexamined: nothing is assumed about them.
  verificationCells, // Sorts screened children into the cells within which the examined stand for the others.
  verificationWeights, // The same cells as strata of rows, for limits of agreement, curves and areas.
  type WeightedGroup, // A group's counts and its weight in the population to which the result is carried.
} from "./accuracy/index.js";

// accuracy, printed tables taken apart: counts behind print, interval methods, misprints
export {
  type CheckedLimits, // What stands between the printed numbers.
  type CheckedMean, // What stands between the printed numbers.
  checkPrintedLimits, // What is wrong with printed limits of agreement, from the printed digits alone.
  checkPrintedMean, // Do mean, SD, standard error, n and interval belong together.
  comparePrinted, // Every printed number of a table beside the one recomputed from the others.
  type Converted, // A number worked out from printed ones, with the range that their rounding leaves open.
  type ConvertedLimits, // Limits worked out from a printed mean and SD.
  type IntervalMatch, // Which methods of an interval print as the printed one does.
  limitsFromSd, // Limits of agreement from a printed bias and SD: bias plus and minus `multiplier` SD, 1.959964 by default.
  matchIntervalMethod, // Which method, at which level, gives a printed interval.
  type PossibleFractions, // Every fraction of whole numbers that prints as a printed share.
  possibleFractions, // Can this percentage come from this many children? Every part of every total in the range whose share prints ...
  type PrintedComparison, // Numbers of a printed table beside what was computed again from them.
  printedComparisonTable, // A comparison as a table.
  type PrintedLimits, // Limits of agreement, or what is called so, as printed.
  type PrintedMean, // A mean with what is printed around it.
  type PrintedMeasure, // Every measure that can be read from print.
  type PrintedReproduction, // Printed numbers beside those of one's own data, and the choices that reproduce them.
  printedReproductionTable, // A result of `reproducePrinted` as a table.
  type PrintedRow, // One row of a typed table: what stands in print, as text, by the name of its column.
  type PrintedTwoByTwo, // What is printed of a 2x2 table: the counts known, and the numbers as strings.
  type PrintedUnit, // How the shares of a table are printed: 87.04 or 0.8704.
  readPrintedRows, // Reads a printed table that somebody typed.
  reproducePrinted, // A printed table beside one's own data.
  type ReconstructedTable, // Every table behind a printed one.
  reconstructTwoByTwo, // Every table of whole counts that prints as stated, after rounding to the printed decimals.
  sdFromLimits, // The SD of the differences from printed limits of agreement.
  sdFromMeanInterval, // The SD of single values from the printed interval of their mean, by Student's quantile.
} from "./printed/index.js";

// agreement: how far a reading can be trusted
export {
  type LimitsData, // Paired measurements, and which of them may be cut off by the instrument.
  type LimitsOfAgreement, // Limits of agreement of two measurements, test minus reference.
  limitsOfAgreement, // Limits of agreement: bias.
  type PairedMeasurements, // Paired measurements; a difference is always test minus reference.
  type Trend, // What the differences are regressed on.
  type RegressionLimits, // Limits of agreement that change with the magnitude.
  regressionLimits, // Conditional limits of agreement, which change with magnitude: right if mean and spread are linear.
  type RatioLimits, // Limits of agreement of the ratio of two positive measurements.
  ratioLimits, // Limits of agreement of the ratio test / reference, by way of logarithms (Bland and Altman 1999, section 3.1).
  type NonparametricLimits, // Limits of agreement as percentiles of the differences.
  nonparametricLimits, // Percentiles of test minus reference instead of bias ± SDs (Bland and Altman 1999, section 6).
  type FoldedDistribution, // The cumulative distribution of differences, folded above the median.
  foldedDistribution, // The cumulative distribution of test minus reference, folded down above the median.
  examinationWeights, // Inverse shares examined.
  type WeightedLimits, // Limits of agreement with each examined row standing for others.
  type SurveyLimits, // Weighted limits of agreement of a survey with strata and sampling units.
  surveyLimits, // Limits of agreement of the population that a survey stands for.
  weightedLimits, // Limits of agreement where examination depended on the reading.
  type DifferenceShares, // Shares of rows whose difference is within each stated number of dioptres.
  withinDifference, // Share of differences that are acceptable.
  type BiasBy, // Limits of agreement in each group, and the test that the bias is one.
  biasBy, // Limits of agreement in groups.
  type DifferenceRegression, // The difference of two measurements on covariates.
  differenceRegression, // Least-squares regression of test minus reference on covariates (age, confidence score, pupil, delay.
  type GreyZone, // Readings too near a limit to say on which side the finding is.
  greyZone, // How many children lie within `margin`.
  type VectorAgreement, // Agreement of refractions as power vectors, test minus reference.
  vectorAgreement, // Agreement of refractions as vectors (M, J0, J45.
  type VectorRegion, // A region of (M, J0, J45): v lies in it when (v - mean)' covariance^-1 (v - mean) is at most the squared radius.
  type Component, // One of the three components of a power vector.
  regionShadow, // The shadow of a region of (M, J0, J45) on the plane of two components.
  type DoubleAngleSummary, // Centroid of astigmatism and its ellipses, in double-angle axes.
  doubleAngleSummary, // One set of refractions for a double-angle plot of astigmatism.
  type Ellipse, // An ellipse in the plane of two components, ready to be drawn.
  type Eyes, // The eye of each row; left eyes are mirrored.
  type AxisAgreement, // Agreement of cylinder and axis, axes compared beyond a stated cylinder only.
  axisAgreement, // Cylinder and axis compared as the trade asks for it.
  type CylinderAndAxis, // Cylinder and axis of one eye, minus-cylinder form; the axis is null where the cylinder is 0.
  type Repeatability, // Error of repeated readings of one eye.
  repeatability, // Repeatability: the within-subject SD.
  type IntraclassCorrelation, // Reliability of ratings as an intraclass correlation of one form.
  type IntraclassForm, // The six forms of Shrout and Fleiss 1979.
  intraclassCorrelation, // Intraclass correlation in one of the six forms of Shrout and Fleiss 1979, which a report has to name.
  type ConcordanceCorrelation, // Concordance correlation of two measurements of the same rows.
  concordanceCorrelation, // Concordance correlation coefficient (Lin 1989, variance as corrected 2000), moments with divisor n.
  type DemingRegression, // The line between two measurements that both have error.
  demingRegression, // Deming regression of test on reference, both with error: test = intercept + slope x reference.
  type PassingBablok, // The line of Passing and Bablok between two measurements.
  passingBablok, // Regression of Passing and Bablok 1983.
  type PairedTTest, // Student's test that the mean difference is 0.
  pairedTTest, // Paired t-test that the mean of test minus reference is 0.
  type SignedRankTest, // Wilcoxon's test that differences lie about 0.
  signedRankTest, // Wilcoxon's signed-rank test that test minus reference is symmetric about 0.
  type Calibration, // The line that turns a reading into the finding expected, checked on folds.
  calibrateReading, // A straight line from the reading (and age) to the cycloplegic finding, cross-validated by child.
  type PredictedFinding, // The finding expected behind one reading, with its interval.
  predictFinding, // The cycloplegic finding that a calibration predicts for one reading.
} from "./agreement/index.js";

// programme: what a screening programme did, in plain figures
export {
  compareProgrammes, // Two years or programmes of different children side by side.
  comparisonTable, // Two programmes as one table: every figure of both, the difference, and the difference standardised for age.
  describeProgramme, // A screening programme in plain figures.
  type FunnelLimits, // A share in groups of different sizes, beside what chance makes of the share of all.
  funnelLimits, // A share by site (or another grouping) with the limits between which chance alone keeps a group of its size.
  type ProgrammeColumns, // What a programme did with each eligible child, one row a child.
  type ProgrammeComparison, // Two programmes, or two years of one, side by side.
  type ProgrammeDescription, // A programme in figures.
  type ProgrammeMeasureId, // Short stable name of a figure of a programme.
  programmeTables, // A programme's figures as tables.
} from "./programme/index.js";

// rules: referral rules and target conditions as data
export {
  applyRule, // Whether a rule refers a child, with every reason.
  asPublished, // Printed with every published definition.
  categorise, // Categories of refraction by a published definition, three-valued as rules are.
  type CategorisedColumns, // Refraction categories of many persons, as columns.
  type CategorisedPerson, // Refraction categories of one person.
  type CohortDecisions, // A referral rule and a target condition on the same children.
  completeRule, // The rule of a template, with what its source leaves open chosen by the user.
  decideCohort, // A referral rule on the readings and a target condition on the findings of a cohort, child by child.
  defineRule, // Checks a referral rule or target condition given as JSON.
  explainRule, // A rule as a table that a clinician can check against the publication or the protocol.
  publishedRules, // Published target conditions by id: only limits whose number and relation were read in print.
  type ReasonCombination, // Children referred for exactly these criteria.
  reasonCombinations, // Referred children by the combination of criteria that refer them, most frequent first.
  type ReferralRule, // A referral rule (of a reading) or a target condition (of a finding), as data.
  type ReferredAndFound, // Children by what they were referred for and what was found.
  referredAndFound, // "Referred for this, found that".
  referredAndFoundTable, // The same as a table to print.
  type RefractionCategories, // Categories of refraction by one published definition.
  refractionCategories, // Categories of refraction by id, each with the quantity and the relation of its source.
  type RuleChild, // One child for a rule.
  type RuleColumns, // Children as columns, ready for a rule.
  ruleColumns, // The readings, or the findings, of every child of a cohort as columns in the order of `cohort.children`.
  type RuleDecision, // What a rule says of one child, and why.
  type RuleDecisions, // A rule on many children, as columns in the order of the children.
  type RuleDifference, // Where two rules differ: in their limits, and in the children they decide on.
  ruleDifference, // What two rules differ in.
  type RuleTemplate, // A published definition with something left open: the user chooses, and the choice is printed.
} from "./rules/index.js";

// simulation: cohorts with known truth
export {
  type SimulatedCohort, // Invented readings and findings with the truth behind them.
  simulateCohort, // Invented children with known truth.
} from "./simulation/index.js";

// thresholds: where the line is
export {
  type AccuracyAtCutOffs, // A cross at every cut-off of a curve.
  accuracyAtCutOffs, // Sensitivity and specificity at each cut-off, each with its Wilson interval.
  type AreaBootstrap, // An area with its bootstrap.
  type AreaComparison, // Two areas under curves and their difference, first minus second.
  type AreaEstimate, // An area with what it was estimated from.
  type AreaGroup, // One of two groups of different children.
  areasByAgeBand, // A curve and its area for each age band (completed months, half-open).
  type AreasByAgeBand, // The curve of each age band.
  areaUnderCurve, // Area under the ROC curve.
  binormalCurve, // Binormal curve of ordinal categories by maximum likelihood (Dorfman and Alf 1969).
  type BinormalCurve, // A smooth curve: sensitivity = Phi(a + b Phi^-1(false-positive rate)).
  chooseThreshold, // Chooses the cut-off that is best by a criterion, and says how much of that is luck.
  compareAreas, // Compares the areas of two tests on the same rows.
  compareIndependentAreas, // Compares the areas of two groups of different children: the variances add.
  type InstrumentComparison, // Two and more instruments on the same eyes, against a reference, each other and themselves.
  compareInstruments, // Compares two and more instruments on the same eyes.
  instrumentTable, // A comparison of instruments as one table: each against the reference, then each pair.
  compareSeveralAreas, // Areas of several tests on the same rows with their covariance, and the test that all are equal.
  partialArea, // Area under a part of the curve.
  type PartialArea, // Area under a part of a curve, raw and standardised.
  type PositiveWhen, // Which end of the scale speaks for the condition; never guessed.
  rocCurve, // Every operating point of one variable against a yes/no condition, with its counts.
  type RocCurve, // Every operating point, from referring nobody to referring everybody.
  scoreTradeoff, // What a limit on the instrument's confidence score buys and costs.
  type ScoreTradeoff, // What a limit on the confidence score buys and costs.
  sensitivityAtRates, // Sensitivity at fixed false-positive rates, with pointwise percentile limits from a bootstrap of children.
  type SensitivityBand, // Sensitivity at fixed false-positive rates: a pointwise band, with the cut-off left free.
  type SeveralAreas, // Areas of several tests on the same rows, and the test that all are equal.
  type ThresholdChoice, // A cut-off chosen on these rows, and how much of its performance is luck.
  type ThresholdRows, // Columns of a resampled analysis.
  thresholdsByAgeBand, // A cut-off for each age band, and a test whether one serves all.
  type ThresholdsByAgeBand, // One chosen cut-off an age band, and the test of one for all.
  type ThresholdValidation, // Accuracy of a cut-off that was fixed in advance.
  validateThreshold, // Accuracy of a cut-off that was fixed before these rows were seen.
  type WeightedThresholdValidation, // The same from weighted rows.
} from "./thresholds/index.js";
export type {
  AgeBand, // Completed months from (included) to (excluded).
  ConditionColumn, // The condition of each row: yes or no, or "inconclusive" where that is allowed.
  ExaminationColumns, // Who was examined, and within which strata a random share of them was.
  TestColumn, // A test's result for each row: yes or no, also as "refer" or "pass", or "undecidable".
  UndecidablePolicy, // How a row without a decision is counted.
  YesNoColumn, // Yes or no for each row: true or 1, false or 0.
} from "./rows/index.js";
export {
  type BandedFront, // The front over all combinations of one rule a band.
  bestOfBands, // The rule with limits by band that is most sensitive under a constraint; ties to the higher specificity.
  type BestOfBands, // The best rule with limits of its own in every band.
  bestRule, // The rule of highest sensitivity (or Youden index, or least cost) under constraints.
  type BestRule, // The rule that a space holds best under constraints.
  type ExaminedRegion, // Rows and limits of the region where everybody was examined.
  type EyeColumns, // Columns of measurements, a row an eye, as readings and findings have them.
  type FrontAgainst, // What a front sets against sensitivity.
  mergeFronts, // The front of all rules that have limits of their own in each age band, from the bands' fronts.
  type NoRule, // No rule meets the constraints; the reason says so.
  paretoFront, // The Pareto front of sensitivity against specificity, referral rate or cost over a rule space.
  type PlacedRule, // A rule from elsewhere beside the front of a grid.
  type PlacedRules, // Given rules on the front of a space: what they lose against it.
  placeRules, // Places rules that are not of the grid.
  restrictToExamined, // The part of a programme in which rules can be compared although passes below it were not examined.
  ruleAt, // The 2x2 table of one rule of a space.
  type RuleConstraints, // What a programme demands of its rule.
  type RuleFront, // The rules that no other rule beats in both sensitivity and what is set against it.
  ruleFrontsByAgeBand, // The front of the joint rules of each age band.
  type RuleFrontsByAgeBand, // The front of each age band, searched on its own.
  type RuleLimits, // Limits of a rule by criterion; null is "switched off".
  type RuleMeasures, // Criteria of a child; high is worse.
  ruleMeasures, // The four usual criteria of each child, ready for `ruleSpace`.
  type RuleRows, // Rows of a search.
  type RuleSearch, // A search over all rules of a grid, and how much of the found performance is luck.
  ruleSpace, // Counts of every joint any-of referral rule on a grid, at once.
  type RuleSpace, // Counts of every joint any-of rule on a grid of limits.
  searchRules, // Searches every joint any-of rule of a grid for the best one, and says how much of that is luck.
  sensitivityByCondition, // How many children with each condition one joint rule refers, whichever of its criteria does it.
  type SensitivityByCondition, // How many of each condition one rule refers.
} from "./rulespace/index.js";

// protocol: the pre-specified choices of a study
export {
  defineProtocol, // Checks a study protocol and fills in its stated defaults.
  type Protocol, // The choices of a study, made before its data are looked at.
  protocolHash, // SHA-256 of the choices alone: key order, spacing and notes do not change it.
} from "./protocol/index.js";

// planning: how many children a study needs
export {
  type AccuracyPlan, // How many children an accuracy study needs, and what it is expected to give.
  type AccuracyStudy, // What a study of referral accuracy expects and wants.
  type AgreementPlan, // How many eyes or children an agreement study needs, and what it is expected to give.
  type AgreementStudy, // What a study of agreement expects and wants; in one unit, dioptres as a rule.
  type AreaPlan, // How many children a study of an area needs, and what it is expected to give.
  type AreaStudy, // What a study of an area under the ROC curve expects and wants.
  planAccuracyStudy, // How many children a study of referral accuracy has to screen.
  planAgreementStudy, // How many children a study of agreement has to enrol.
  planAreaStudy, // How many children a study of an area under the ROC curve needs.
  planStudy, // The plan that a file holds.
  planTable, // A plan as its precision table.
  type StudyPlan, // The plan of any of the three kinds of study.
} from "./planning/index.js";

// tables: results as tables, and their writers
export {
  toCsv, // A table as CSV (RFC 4180, LF line ends) for reuse.
  toHtml, // A table as an HTML fragment.
  toLatex, // A table as LaTeX in the style of the package booktabs (`\usepackage{booktabs}`).
  toMarkdown, // A table as Markdown: title in bold, pipes, numbers to the right, footnotes as letters.
  toWord, // Tables as one Word document (.docx).
  toWorkbook, // Tables as an XLSX workbook, a sheet a table.
} from "./tables/index.js";

// figures: results as figures, and their renderers
export {
  biasByFigure, // Bias with its interval for each group of age, refraction, site and the like.
  calibrationFigure, // The finding against the reading, with the calibration line over the readings that are drawn.
  cutOffFigure, // How often the bootstrap chose each cut-off: the uncertainty of the choice, cut-off by cut-off.
  type DifferencePanel, // One of the planes: a component, an age band, a site.
  type DoubleAnglePanel, // One group of eyes: right eyes, left eyes, or both with the left ones mirrored.
  differenceAgainstMeanFigure, // Differences (test minus reference) against the mean of the two, with the bias.
  differencePanelsFigure, // Differences against means in several planes on one scale: the components M, J0 and J45, age bands, sites.
  doubleAngleFigure, // Double-angle plot of astigmatism.
  examinedFigure, // The readings of those who were examined against the readings of those who were not.
  type FoundCount, // Examined children referred for one thing and found to have another.
  funnelFigure, // A share by site against the size of the site, with the limits between which chance alone keeps it.
  flowFigure, // The participant flow as boxes after STARD 2015 (Bossuyt and others).
  foldedDifferencesFigure, // The cumulative distribution of the differences, folded down above the median.
  forestFigure, // One estimate with its interval for each group or site, numbers beside them.
  instrumentComparisonFigure, // Several instruments on the same eyes.
  intervalMatchFigure, // A printed interval and what every method makes of the same table.
  type LimitsShown, // What the figure needs of a result of `limitsOfAgreement`.
  limitFigure, // What a referral limit does.
  linkedFigures, // The same eyes in several views side by side, in which a selection goes from one to the others.
  type LinkedEyes, // Readings and findings as vectors, such as `powerVectorPairs` gives them.
  limitHeatMapFigure, // Sensitivity or specificity of every pair of limits of a rule of two criteria; the chosen pair is framed.
  limitRangesFigure, // How far each limit of a searched rule can be moved before the rule can be told from the chosen one.
  methodRegressionFigure, // Test against reference with fitted lines and the line of equality.
  netBenefitFigure, // Net benefit of a rule, of referring all and of referring nobody.
  outcomesPerThousandFigure, // What a referral does to a thousand, one mark for each.
  planFigure, // What a study gives for its size.
  predictiveValuesFigure, // Predictive values, with their intervals as bands, against the prevalence of another population.
  type ReasonCount, // Children who were referred for exactly these reasons.
  type RegressionLine, // A straight line between two methods: a result of `demingRegression` or `passingBablok`.
  programmeComparisonFigure, // Differences of two programmes in percentage points, as they are and with ages made alike.
  ratesAlongLimitFigure, // Sensitivity, specificity and referral rate along the referral limit.
  refractionByAgeFigure, // Refraction in age bands, as shares of each band.
  referralReasonsFigure, // How many children were referred for each combination of reasons, the most frequent first.
  referredAgainstFoundFigure, // What children were referred for against what the exam found, as counts in a shaded grid.
  render, // Draws a figure at the size it states.
  repeatabilityFigure, // Spread of an eye's repeated readings against their mean.
  rocFigure, // Sensitivity against the false-positive rate, with cut-offs named beside the curve in their unit.
  ruleFrontFigure, // The front of all joint rules: no other rule has both a higher sensitivity and a higher specificity.
  scoreTradeoffFigure, // What a limit on the instrument's confidence score buys and costs.
  shareHistogramFigure, // Distributions of one quantity in two to four groups, as shares of each group.
  type VectorDifference, // Differences of power vectors, test minus reference.
  vectorProjectionsFigure, // The vector difference (test minus reference) seen along its three axes.
  type ThousandPanel, // A thousand of some children (or eyes), by what a referral does to them.
  verificationBoundsFigure, // How far each rate could be moved by the children who were not examined (thick bars.
} from "./figures/index.js";

// citations: what a text on a result should cite
export {
  type Citations, // What a text on a result should cite.
  citationsOf, // What a text on a result should cite.
} from "./citations/index.js";

// study: a protocol's run and its report
export {
  compareReleases, // Whether two public reports may both be passed on.
  programmeColumns, // The children of a linked cohort as `describeProgramme` takes them, by a protocol.
  type ReleaseComparison, // Whether a second release may stand beside the first.
  type Report, // A report as data: what the writers to HTML, Word, PDF and Markdown share.
  runStudy, // Runs a protocol: reads its sources, links them, and compares readings with findings.
  type StudyResult, // Everything a study found, as plain data.
  studyReport, // The report of a study as data, from the saved result alone; for the public computed from coarse counts.
  summaryLines, // A study in four lines, one a condition and the verdict where criteria were stated, for a terminal.
  writeReport, // Writes a study as one folder.
} from "./study/index.js";

// notebook: showing results in a notebook
export {
  type Frame, // The part of a danfojs DataFrame (1.2) that is safe on data with missing values.
  type FrameCell, // A cell of a frame; what is missing is null.
  joinFrames, // The columns of a second frame beside those of the first, where the columns `on` are equal.
  fromFrame, // The rows of a frame as plain objects, one member a column, as `readReadings` and `readFindings` take them.
  show, // Shows a result in a notebook, the answer first.
  toFrame, // A danfojs DataFrame of a cohort.
} from "./notebook/index.js";
