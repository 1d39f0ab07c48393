import type { Estimate, Undefined } from "../../results/index.js";
import { fixed, limitAt, limitWords, printSigns } from "../../rows/index.js";
import { numberText } from "../../tables/index.js";
import { fewChildrenWords, type ThresholdChoice } from "../../thresholds/index.js";
import type { ConditionResult } from "../run/studyResult.js";

/** A limit that the run chose, and its performance with the luck of the choice taken off. */
interface CorrectedChoice {
  /** Null where the run chose to refer nobody. */
  readonly cutOff: number | null;
  /** Whom it was chosen among, to go on a sentence; empty where that is everyone compared. */
  readonly among: string;
  /** The corrected figures, a sentence. */
  readonly performance: string;
}

/** The chosen limit of a condition; weighted where passes were examined in part, none where it cannot be. */
export function correctedChoices(condition: ConditionResult): CorrectedChoice[] {
  const { chosen, verification, weighted } = condition;
  if (verification === null) return chosen === null ? [] : [correctedChoice(chosen, "")];
  return weighted?.chosen?.kind === "threshold-choice"
    ? [correctedChoice(weighted.chosen, ", weighted for who was examined")]
    : [];
}

/** The limit in the words of every other limit: ">= +1.875 D"; "to refer nobody" where the run chose that. */
export function chosenWords({
  cutOff,
  positiveWhen,
}: Pick<ThresholdChoice, "cutOff" | "positiveWhen">): string {
  return cutOff === null
    ? "to refer nobody"
    : printSigns(limitWords(limitAt(cutOff, positiveWhen)));
}

function correctedChoice(choice: ThresholdChoice, among: string): CorrectedChoice {
  const { correctedIntervals, crossValidated } = choice;
  const percent = (share: number) => numberText(share, "percent");
  const validated =
    crossValidated === null
      ? "not cross-validated"
      : `cross-validated, sensitivity ${percent(crossValidated.sensitivity)} and specificity ${percent(crossValidated.specificity)}`;
  const withInterval = (measure: "sensitivity" | "specificity") =>
    `${measure} ${percent(choice.corrected[measure])}${intervalWords(correctedIntervals[measure])}`;
  const few = fewChildrenWords(choice.subjects ?? choice.n);
  return {
    cutOff: choice.cutOff,
    among,
    performance: `Corrected for optimism: ${withInterval("sensitivity")} and ${withInterval("specificity")}, intervals approximate; ${validated}.${few === null ? "" : ` ${few}`}`,
  };
}

function intervalWords(estimate: Estimate | Undefined): string {
  if (estimate.kind === "undefined") return "";
  return ` (${fixed(100 * estimate.low, 1)} to ${fixed(100 * estimate.high, 1)})`;
}
