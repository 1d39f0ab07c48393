import { mean } from "simple-statistics";
import type { Estimate, Undefined } from "../results/index.js";

/** Rates of cut-offs chosen without the children they are judged on, for each repeat. */
export interface CrossValidated {
  readonly sensitivity: readonly number[];
  readonly specificity: readonly number[];
}

/** How well a cut-off does; plain numbers, no interval belongs to them. */
export interface Performance {
  readonly sensitivity: number;
  readonly specificity: number;
  readonly youdenIndex: number;
}

/** The same with an interval, or a reason why there is none. */
export interface PerformanceMeasures {
  readonly sensitivity: Estimate | Undefined;
  readonly specificity: Estimate | Undefined;
  readonly youdenIndex: Estimate | Undefined;
}

export function performanceOf(sensitivity: number, specificity: number): Performance {
  return { sensitivity, specificity, youdenIndex: sensitivity + specificity - 1 };
}

export function meanOverRepeats({ sensitivity, specificity }: CrossValidated): Performance {
  return performanceOf(mean(sensitivity), mean(specificity));
}

/** Standard errors of the means over repeats. */
export function errorOverRepeats({ sensitivity, specificity }: CrossValidated): Performance {
  return {
    sensitivity: error(sensitivity),
    specificity: error(specificity),
    youdenIndex: error(sensitivity.map((value, at) => value + specificity[at])),
  };
}

/** 0 for a single repeat. */
function error(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const middle = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
}
