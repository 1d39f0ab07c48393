/** What a rule says of a child. */
export type Decision = "refer" | "pass" | "undecidable";

/** The same as a column that is set against a yes/no condition: true is refer, false is pass. */
export type Referred = boolean | "undecidable";

export function referredOf(decision: Decision): Referred {
  return decision === "undecidable" ? decision : decision === "refer";
}
