import type { ConditionCell } from "../../src/study/run/studyCells.js";
import type { StudyResult } from "../../src/study/run/studyResult.js";
import { coarseResult } from "./coarseResult.js";

const recorded = ["refer", "pass", "unable"] as const;
/** The cells of its rows, in order. */
export const places = recorded.flatMap((decision) =>
  (["with", "without", "unexamined"] as const).map((state) => ({
    recorded: decision,
    studied: decision === "pass" ? ("pass" as const) : ("refer" as const),
    state,
    eyes: 1 as const,
  })),
);

/** A study of the examined in part, with these children in its cells, then out of its rows. */
export function recordedResult(children: readonly number[]): StudyResult {
  const base = coarseResult([], [{ refer: 1, target: 1 }]);
  const cells = places.map((place, at): ConditionCell => ({ ...place, children: children[at]! }));
  const [before = 0, unexamined = 0, undecided = 0] = children.slice(places.length);
  const n = children.slice(0, places.length).reduce((all, one) => all + one, 0);
  const first = base.conditions[0]!;
  return {
    ...base,
    protocol: { ...base.protocol, verification: "partial" },
    programme: null,
    conditions: [
      {
        ...first,
        screened: n,
        curve: { kind: "undefined", reason: "not of interest here" },
        subgroups: [],
        cells: {
          apart: { before, unexamined, undecided },
          cells,
          children: n,
          knownStand: false,
        },
      },
    ],
  } as StudyResult;
}
