import type { Cohort } from "../../cohort/index.js";
import type { Protocol } from "../../protocol/index.js";
import { counted, grouped } from "../../rows/index.js";
import { conditionRows } from "./conditionRows.js";
import { programmeOf, programmeRows } from "./programmeOf.js";
import { strataOf } from "./subgroups.js";

/** How such a sentence begins, by which a report finds it. */
export const contradictedStart = "The data contradict the rule that is said to have referred.";

/**
 * The same for the public: in words that stand wherever a rule takes the place of recorded decisions,
 * whether or not an exam contradicts it. That somebody contradicts it would say that a count is not 0.
 */
export const contradictedForPublic =
  "No decision of the programme is recorded; the rule in programme.referWhen stands for it. Whether children were examined as referred whom that rule passes is checked, and not told here, whether or not there are some: it would be a small count. The folder that is not passed on says it. Were there some, what is corrected for who was examined could not be believed.";

/**
 * Where no decision is recorded and a rule stands for it: children examined because they were referred whom
 * that rule lets pass. A sentence; null where there are none. Numbers corrected for who was examined
 * take them for passes.
 */
export function contradictedRule(cohort: Cohort, protocol: Protocol): string | null {
  const programme = programmeOf(cohort, protocol);
  if (programme.source !== "computed" || protocol.verification === "complete") return null;
  const found = conditionRows(cohort, protocol, protocol.conditions[0]!);
  const rows = programmeRows(
    found,
    cohort,
    protocol,
    programme,
    strataOf(cohort, protocol)?.groupOf ?? null,
  );
  const sent = rows.subjects.filter((_, row) => rows.reason[row] === "referred");
  const against = rows.subjects.filter(
    (_, row) => rows.reason[row] === "referred" && rows.recorded[row] === "pass",
  );
  const children = new Set(against).size;
  if (children === 0) return null;
  return `${contradictedStart} ${counted(children, "child", "children")} of ${grouped(new Set(sent).size)} examined as referred would have passed by the rule in programme.referWhen: either that rule was not the programme's, or the readings are not those that it decided by. What is corrected for who was examined goes by the rule and cannot be believed; record the programme's decisions, or state its own rule.`;
}
