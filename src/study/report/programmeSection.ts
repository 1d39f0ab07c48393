import { programmeTables } from "../../programme/index.js";
import type { ConditionProgramme, StudyResult } from "../run/studyResult.js";
import type { ReportBlock, ReportSection } from "./report.js";

const sources = {
  recorded: "What the programme decided of each child is recorded.",
  computed:
    "What the programme decided is not recorded; it was computed by the rule that the protocol declares for it.",
  studied:
    "What the programme decided is not recorded; it is taken to be the referral under study.",
} as const;

/** The programme in plain figures; no section where the readings are not those of a programme. */
export function programmeSection({ programme, protocol }: StudyResult): ReportSection[] {
  if (programme == null) return [];
  return [
    {
      id: "programme",
      title: "The programme in figures",
      blocks: programme.flatMap((one) => blocksOf(one, protocol.audience)),
    },
  ];
}

function blocksOf(
  { title, source, filled, description }: ConditionProgramme,
  audience: StudyResult["protocol"]["audience"],
): ReportBlock[] {
  const words = `${title}. ${sources[source]}${filled === 0 ? "" : " Where the record is empty, the rule stands in."}`;
  return [
    { kind: "paragraph", text: words },
    ...programmeTables(description, { audience, title: `The programme in figures: ${title}` }),
  ];
}
