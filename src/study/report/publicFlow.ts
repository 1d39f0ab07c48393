import { flowOfCounts } from "../../figures/index.js";
import { type CoarseCount, totalOf } from "../../disclosure/index.js";
import type { FigureSpec } from "../../results/index.js";
import type { CoarseFlow } from "../coarse/coarseFlow.js";
import { leftOutWords } from "./publicTables.js";
import type { CoarseStudy } from "../coarse/coarseStudy.js";

/**
 * The participant flow for the public, with what the referral and the exam said of those whom the first
 * confirmatory condition counts: of coarse counts, each of which stands in a table or is a sum of cells that
 * were weighed with the tables. Nothing where neither the flow nor the counts are shown.
 */
export function publicFlowFigure({ protocol, flow, conditions }: CoarseStudy): FigureSpec[] {
  const confirmatory = conditions.find(({ role }) => role === "confirmatory");
  const counts = confirmatory?.counts ?? null;
  if (flow === null && counts === null) return [];
  const { unit, undecidable, verification } = protocol;
  const rows = unit === "child" ? "children" : "eyes";
  const group = (label: string, own: readonly (readonly [string, CoarseCount])[]) => ({
    label: undecidable === label.toLowerCase() ? `${words[label]} or undecided` : words[label]!,
    total: `${about(totalOf(own.map(([, count]) => count)))} ${rows}`,
    parts: own.map(([part, count]) => ({ label: part, count: about(count) })),
  });
  // the box above has the same children, and says how many they are
  const isSaid = (total: string) => unit === "child" && flow?.compared.words === total;
  const results =
    counts === null
      ? null
      : {
          title: isSaid(counts.rows.words)
            ? confirmatory!.title
            : `${confirmatory!.title}: ${counts.rows.words} ${rows}`,
          groups: (["Refer", "Pass"] as const).map((side) => {
            const { table, unexaminedBy } = counts;
            const [has, not] =
              side === "Refer"
                ? [table.truePositive, table.falsePositive]
                : [table.falseNegative, table.trueNegative];
            const missing = unexaminedBy?.[side === "Refer" ? "refer" : "pass"];
            return group(side, [
              ["with the condition", has],
              ["without it", not],
              ...(missing === undefined ? [] : [["not examined", missing] as const]),
            ]);
          }),
        };
  return [
    flowOfCounts({
      steps: flow === null ? [] : steps(flow, verification === "complete"),
      results,
      n: flow?.all.words ?? null,
      caption: `Participant flow in coarse counts${flow === null ? "" : `, children; ${flow.all.words} in all`}. "About": rounded to protect children. A sum is the range that its parts allow.`,
    }),
  ];
}

/** A rounded count says that it is one. */
export const about = ({ words: count }: CoarseCount) =>
  /^[\d,]+$/.test(count) ? `about ${count}` : count;

const words: { readonly [side: string]: string } = { Refer: "Referred", Pass: "Passed" };

function steps(flow: CoarseFlow, complete: boolean) {
  const out = (words: string, coarse: CoarseCount) => {
    const count = about(coarse);
    return {
      label: words.replace(/^./, (first) => first.toUpperCase()),
      count: `${count} children`,
      said: count,
    };
  };
  return [
    {
      ...out("In either file", flow.all),
      excluded: [
        out(leftOutWords.before, flow.before),
        ...(flow.unexamined === null ? [] : [out(leftOutWords.unexamined, flow.unexamined)]),
        out(leftOutWords.undecided, flow.undecided),
      ],
    },
    { ...out(complete ? "Compared" : "Screened", flow.compared), excluded: [] },
  ];
}
