import type { FigureSpec } from "../results/index.js";
import type { Bench } from "./benchHtml.js";
import { benchStops, smallestBin } from "./benchStops.js";
import { referralLimit } from "./limit.js";
import type { ConditionResult, StudyResult } from "./studyResult.js";

/** The threshold bench of a condition; nothing where there is no curve or no place to stop. */
export function benchOf(
  result: StudyResult,
  condition: ConditionResult,
  figures: ReadonlyMap<string, readonly FigureSpec[]>,
): Bench[] {
  const { protocol } = result;
  const stops = benchStops(condition, protocol);
  const figure = figures.get(condition.id)?.[0];
  if (stops.length === 0 || figure === undefined) return [];
  const { quantity } = referralLimit(protocol, condition.id)!;
  const { prevalence } = condition.accuracy;
  const step =
    protocol.audience === "public"
      ? `It stops only where every count between two stops is 0 or at least ${smallestBin}: ${stops.length} stops, over measured readings alone.`
      : `It stops at every distinct reading: ${stops.length} stops, over measured readings alone.`;
  return [
    {
      kind: "bench",
      id: condition.id,
      title: condition.title,
      quantity,
      stops,
      samplePrevalence: prevalence.kind === "estimate" ? prevalence.value : null,
      step,
      elsewhere: `Move the limit of "${condition.title}" on the page report.html. ${step}`,
      level: protocol.level,
      row: protocol.unit === "child" ? "children" : "eyes",
      figure,
    },
  ];
}
