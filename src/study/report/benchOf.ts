import type { ProtocolLimit } from "../../protocol/index.js";
import type { FigureSpec } from "../../results/index.js";
import { directionOf } from "../../rows/index.js";
import type { Bench } from "../publish/benchHtml.js";
import { referralLimit } from "../run/referralLimit.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { type BenchStop, benchStops } from "./benchStops.js";
import { chosenWords, correctedChoices } from "./correctedChoices.js";
import { waysOfCounting } from "./reconciliation.js";

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
  const limit = referralLimit(protocol, condition.id)!;
  const partly = condition.verification !== null;
  const { prevalence } = condition.verification?.corrected ?? condition.accuracy;
  const step = `Its ${stops.length} distinct decisions are those of measured readings alone, so that its counts may be below those above.`;
  return [
    {
      kind: "bench",
      id: condition.id,
      title: condition.title,
      quantity: limit.quantity,
      relation: directionOf(limit) === "low" ? "<=" : ">=",
      fixedRelation: limit.relation,
      stops,
      uncorrected: uncorrectedWords(condition, stops, limit),
      samplePrevalence: prevalence.kind === "estimate" ? prevalence.value : null,
      step,
      elsewhere:
        protocol.outputs === undefined || protocol.outputs.includes("html")
          ? `Move the limit of "${condition.title}" on the page report.html. ${step}`
          : `The protocol asks for no page on which the limit of "${condition.title}" could be moved.`,
      level: protocol.level,
      row: `${protocol.unit === "child" ? "children" : "eyes"}${partly ? `, ${waysOfCounting.examined}` : ""}`,
      counting: partly
        ? `, ${waysOfCounting.corrected}; rows without a value as at the limit fixed in advance`
        : "",
      figure,
    },
  ];
}

/** What the page says away from the limits at which the run corrected for the choice. */
function uncorrectedWords(
  condition: ConditionResult,
  stops: readonly BenchStop[],
  limit: ProtocolLimit,
): string {
  const choices = correctedChoices(condition);
  if (choices.length === 0) {
    return "No corrected figure was computed: the protocol asked for no limit to be chosen.";
  }
  const positiveWhen = directionOf(limit);
  const elsewhere = choices.map(({ cutOff, among, performance }) => {
    const place = chosenWords({ cutOff, positiveWhen });
    return stops.some((stop) => stop.cutOff === cutOff && cutOff !== null)
      ? `One was computed at ${place}, which the run chose${among}.`
      : `The run chose ${place}${among}; the slider does not stop there. ${performance}`;
  });
  return ["No corrected figure was computed here.", ...elsewhere].join(" ");
}
