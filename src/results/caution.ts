/**
 * Shown by every report, notebook and command that prints accuracy, a threshold or a prediction.
 *
 * @example
 * caution.startsWith("Research use only; not a medical device.") // => true
 */
export const caution =
  "Research use only; not a medical device. This is not a diagnosis, not a prescription and not a " +
  "referral decision for a child. A pass does not mean healthy, and a child without a reading is " +
  "not a pass. Thresholds are tied to the instrument, the age band and the population they were " +
  "studied in. Local law, the local screening protocol and licensed practitioners come first.";
