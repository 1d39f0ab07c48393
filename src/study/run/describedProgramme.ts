import type { Cohort } from "../../cohort/index.js";
import { countsByDecision, describeProgramme } from "../../programme/index.js";
import type { Protocol } from "../../protocol/index.js";
import { programmeColumns } from "./programmeColumns.js";
import { programmeOf } from "./programmeOf.js";
import type { ConditionProgramme } from "./studyResult.js";
import { drawsOf } from "./verificationOf.js";

/** The programme in figures, once a condition; null where nothing says that there was a programme. */
export function describedProgramme(
  cohort: Cohort,
  protocol: Protocol,
): readonly ConditionProgramme[] | null {
  const { source, filled } = programmeOf(cohort, protocol);
  const isProgramme =
    protocol.verification !== "complete" ||
    protocol.programme !== undefined ||
    source === "recorded";
  if (!isProgramme || protocol.sampling === "enriched") return null;
  const { level, seed, undecidable, programme } = protocol;
  return protocol.conditions.map(({ id, title }) => {
    const columns = programmeColumns(cohort, protocol, id);
    const withinDays = programme?.withinDays;
    return {
      id,
      title,
      source,
      filled,
      description: describeProgramme(columns, {
        level,
        seed,
        undecidable,
        withinDays,
        replicates: drawsOf(protocol),
      }),
      byDecision: countsByDecision(columns, { withinDays }),
      isAskedRecorded: columns.invited !== undefined,
    };
  });
}
