import { parameter } from "./parameter.js";

const children = "computed from the children data";
const trade = "common practice, no source";

/** What both instruments share of accommodation. */
export const accommodation = {
  youngAge: parameter(3, "years", "invented", "up to here the values for the young hold"),
  schoolAge: parameter(7, "years", "invented", "from here the values for school age hold"),
  variation: parameter(0.47, "ratio", "Zhao 2004 (SD .97 about -1.23 D)", "CV between children"),
} as const;

/** A handheld binocular instrument at a distance. */
export const handheld = {
  youngBase: parameter(
    0.75,
    "D",
    "tuned to -1.02 D (Srinivasan 2016)",
    "a0: shift at or below m0, young",
  ),
  youngSlope: parameter(0.75, "D/D", "tuned to -3.46 D at >= 4.5 D (Srinivasan 2016)", "a1, young"),
  youngFrom: parameter(2, "D", "invented", "m0, young"),
  schoolBase: parameter(0.1, "D", "tuned to -.05 D in myopes", "a0, school age"),
  schoolSlope: parameter(1.35, "D/D", "tuned to -.73 D in hyperopes", "a1, school age"),
  schoolFrom: parameter(0.8, "D", "invented", "m0, school age"),
  sharedSd: parameter(
    0.3,
    "D",
    `${children} (r .56 between eyes)`,
    "M error of a reading, both eyes",
  ),
  ownSd: parameter(
    0.42,
    "D",
    "two readings within .5 D in 53.9 %",
    "M error of a reading, one eye",
  ),
  j0Shift: parameter(0, "D", "no value known", "mean error of J0"),
  j0Sd: parameter(0.2, "D", children, "SD of the error of J0"),
  j0Shared: parameter(0.32, "correlation", children, "its correlation between eyes"),
  j45Sd: parameter(0.15, "D", children, "SD of the error of J45"),
  grossShare: parameter(
    0.02,
    "share",
    "invented; scenario clinic: children data",
    "readings with a gross error",
  ),
  grossSd: parameter(3.2, "D", "invented; scenario clinic: children data", "SD of a gross error"),
  kneeLow: parameter(
    -5.5,
    "D",
    "tuned to the children data",
    "M below which readings are compressed",
  ),
  kneeHigh: parameter(5.5, "D", "invented", "M above which readings are compressed"),
  compression: parameter(
    0.85,
    "ratio",
    "tuned to the children data",
    "share of the excess that is lost",
  ),
  rangeLow: parameter(-7.5, "D", children, "end of the range of the sphere"),
  rangeHigh: parameter(7.5, "D", children, "end of the range of the sphere"),
  rangeFlagged: parameter(0.5, "share", "invented", "beyond the range and said so; else clipped"),
  flagYoung: parameter(
    0.05,
    "share",
    "5 % out of range below 8 years (Williams 2000)",
    "range flags",
  ),
  flagOld: parameter(0.01, "share", "invented", "range flags from 8 years"),
  unreadableYoung: parameter(0.05, "share", "5 % none below 8 years (Williams 2000)", "no reading"),
  unreadableOld: parameter(0.02, "share", "invented", "no reading from 8 years"),
  unreadableOdds: parameter(
    2.5,
    "odds ratio",
    "at least 2 (VIP, unables)",
    "no reading, if affected",
  ),
  unreadableQuality: parameter(1, "logit/SD", "invented", "no reading, per SD of lower quality"),
  qualityLasting: parameter(
    0.4,
    "share",
    "invented",
    "latent quality that lasts for a child's eyes",
  ),
  qualityShared: parameter(0.3, "share", "invented", "latent quality of one attempt, both eyes"),
  qualityNoise: parameter(0.2, "log/SD", "invented", "own error, per SD of lower quality"),
  qualityGross: parameter(0.8, "log/SD", "invented", "gross errors, per SD of lower quality"),
  scoreMean: parameter(7, "score", trade, "mean confidence score, 1 to 10"),
  scoreSlope: parameter(1.5, "score/SD", trade, "confidence score per SD of quality"),
  pupilMean: parameter(5.8, "mm", "invented", "mean pupil"),
  pupilSd: parameter(0.8, "mm", "invented", "SD of the pupil between children"),
  pupilEffect: parameter(0, "D/mm", "no value known: none claimed", "M error per mm of pupil"),
  step: parameter(0.25, "D", trade, "step of sphere and cylinder"),
} as const;

/** A monocular instrument on a table. */
export const table = {
  ...handheld,
  youngBase: parameter(0.8, "D", "tuned to -1.95 (1.45) D in preschoolers (n 7073)", "a0, young"),
  youngSlope: parameter(
    0.93,
    "D/D",
    "tuned to -1.95 (1.45) D in preschoolers (n 7073)",
    "a1, young",
  ),
  youngFrom: parameter(0, "D", "invented", "m0, young"),
  schoolBase: parameter(0.41, "D", "Zhao 2004 (-.41 D at <= -2)", "a0, school age"),
  schoolSlope: parameter(0.5, "D/D", "tuned to -2.98 D at >= +2 (Zhao 2004)", "a1, school age"),
  schoolFrom: parameter(-2, "D", "tuned to -1.23 D in all (Zhao 2004)", "m0, school age"),
  sharedSd: parameter(
    0.27,
    "D",
    `${children} (r .53 between eyes)`,
    "M error of a reading, both eyes",
  ),
  ownSd: parameter(0.25, "D", children, "M error of a reading, one eye"),
  j0Shift: parameter(-0.08, "D", "Zhao 2004", "mean error of J0"),
  j0Sd: parameter(0.16, "D", children, "SD of the error of J0"),
  j0Shared: parameter(0.21, "correlation", children, "its correlation between eyes"),
  j45Sd: parameter(0.08, "D", children, "SD of the error of J45"),
  grossShare: parameter(0.01, "share", children, "readings with a gross error"),
  grossSd: parameter(2, "D", children, "SD of a gross error"),
  kneeLow: parameter(-20, "D", "invented", "M below which readings are compressed"),
  kneeHigh: parameter(20, "D", "invented", "M above which readings are compressed"),
  rangeLow: parameter(-20, "D", "invented", "end of the range of the sphere"),
  rangeHigh: parameter(20, "D", "invented", "end of the range of the sphere"),
  flagYoung: parameter(0, "share", "invented", "range flags below 8 years"),
  flagOld: parameter(0, "share", "invented", "range flags from 8 years"),
} as const;
