import { funnelFigure } from "../../figures/index.js";
import {
  funnelLimits,
  type ProgrammeDescription,
  programmeTables,
  shownMeasures,
} from "../../programme/index.js";
import type { ConditionProgramme, StudyResult } from "../run/studyResult.js";
import type { ReportBlock, ReportSection } from "./report.js";

/** Where the programme's decision is known from. */
export const decisionSources = {
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
      blocks: [
        ...programme.flatMap((one) => blocksOf(one, protocol.audience)),
        // of the programme, whatever the condition
        ...programme.slice(0, 1).flatMap((one) => funnels(one.description, protocol.audience)),
      ],
    },
  ];
}

function blocksOf(
  { title, source, filled, description }: ConditionProgramme,
  audience: StudyResult["protocol"]["audience"],
): ReportBlock[] {
  const words = `${title}. ${decisionSources[source]}${filled === 0 ? "" : " Where the record is empty, the rule stands in."}`;
  return [
    { kind: "paragraph", text: words },
    ...programmeTables(description, { audience, title: `The programme in figures: ${title}` }),
  ];
}

/** Referrals and follow-up by site, from three sites on, where the audience may see all of them. */
function funnels(
  description: ProgrammeDescription,
  audience: StudyResult["protocol"]["audience"],
): ReportBlock[] {
  const sites = description.groupings.find(({ by }) => by === "site")?.groups ?? [];
  const shown = shownMeasures(sites, audience);
  return (["referred", "followUp"] as const).flatMap((measure) => {
    const known = sites.filter(({ measures }) =>
      measures.some(({ id, of }) => id === measure && of),
    );
    return known.length < 3 || !shown.has(measure)
      ? []
      : [funnelFigure(funnelLimits(description, { measure }), { audience })];
  });
}
