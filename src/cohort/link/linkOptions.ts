import type { CycloplegiaState, EquivalentSource, Findings, Readings } from "../types.js";
import type { AgeLimits } from "./eligibility.js";
import type { ReadingSelection } from "./selectReadings.js";

export interface LinkOptions extends ReadingSelection {
  readonly readings: Readings;
  readonly findings: Findings;
  /**
   * Which of several readings of an eye counts: the first (default) or last by day, repeat and
   * line, the one of highest confidence, or the mean or median of the power vectors of a day. A
   * reading without a day, or a repeat, counts only where no other has one.
   */
  readonly repeats?: "first" | "last" | "highest-confidence" | "mean" | "median";
  /** Plane that both sources are brought to; by default readings go to the findings' plane. */
  readonly vertexMm?: number;
  /**
   * Which of several findings of an eye counts ("first"); "nearest" in days to the reading. A finding
   * without a day counts only where no other has one.
   */
  readonly exam?: "first" | "last" | "nearest";
  /**
   * Days from reading to exam, from and to, both included; needs days in both files. An eye without
   * a reading counts from the other eye's.
   */
  readonly daysBetween?: readonly [number, number];
  /**
   * States of cycloplegia in which a finding counts as reference, such as ["full"]; by default all.
   * Eyes with other findings only are "other-cycloplegia" in the flow and not verified.
   */
  readonly referenceCycloplegia?: readonly CycloplegiaState[];
  /** Readings with a lower confidence score count as "low-confidence". */
  readonly confidenceAtLeast?: number;
  readonly eligibility?: AgeLimits;
  /**
   * Where M of the finding comes from: sphere and cylinder, or as stated by the file. The cohort keeps it for
   * later calls. By default computed; stated where no row of the file has sphere and cylinder.
   */
  readonly referenceEquivalent?: EquivalentSource;
  /** The same for the reading. */
  readonly readingEquivalent?: EquivalentSource;
  /** Children read fewer days than this before the last day of the files are still pending. */
  readonly followUpDays?: number;
}
