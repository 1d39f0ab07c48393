import { rateWords } from "../../disclosure/index.js";
import type { Estimate, TableModel } from "../../results/index.js";
import { fixed, percent, quantityText } from "../../rows/index.js";
import type { CoarseFinding } from "../coarse/coarseVerdict.js";
import type { CriterionVerdict, StudyVerdict } from "../run/verdict.js";
import { intervalInWords } from "./intervalInWords.js";
import type { ReportBlock } from "./report.js";
import { text } from "./tableParts.js";

interface Judged {
  readonly verdict?: StudyVerdict<Estimate | CoarseFinding> | null;
  readonly protocol: { readonly acceptableDifference: number };
  readonly conditions: readonly { readonly id: string; readonly title: string }[];
}
type Judgement = CriterionVerdict<Estimate | CoarseFinding>;

/** The verdict in a sentence, each criterion with what was found; null without criteria. */
export function verdictSentence(study: Judged): string | null {
  const { verdict } = study;
  if (verdict == null) return null;
  const each = verdict.criteria.map(
    (one) =>
      `${askedOf(one, study)} at least ${percent(one.least)}: ${one.verdict}, ${foundWords(one)}`,
  );
  const isOpen = verdict.criteria.some(
    (one) => one.verdict === "cannot be said" && one.found.kind !== "undefined",
  );
  return `${together[verdict.verdict]} ${each.join("; ")}.${isOpen ? ` ${openWords}` : ""}`;
}

const openWords = "It cannot be said where the interval lies on both sides of what was asked.";
const verdictRule =
  "Met: the whole interval lies above what was asked. Not met: it lies below. Otherwise it cannot be said.";

/** Whether a sentence is that of a verdict. */
export const isVerdict = (sentence: string): boolean =>
  Object.values(together).some((words) => sentence.startsWith(words));

const together = {
  met: "All criteria stated in advance are met.",
  "not met": "Not all criteria stated in advance are met.",
  "cannot be said": "Whether all criteria stated in advance are met cannot be said.",
};

/** The verdict, then its table; nothing without criteria. */
export function verdictBlocks(study: Judged): ReportBlock[] {
  const sentence = verdictSentence(study);
  return sentence === null ? [] : [{ kind: "paragraph", text: sentence, emphasis: "headline" }];
}

/** Each criterion, what was found, and whether it was met; nothing without criteria. */
export function verdictTables(study: Judged): TableModel[] {
  const { verdict } = study;
  if (verdict == null) return [];
  return [
    {
      kind: "table",
      title: "Criteria stated in advance",
      columns: [
        text("Criterion"),
        { label: "At least", format: "percent" },
        text("Found"),
        text("Verdict"),
      ],
      rows: verdict.criteria.map((one) => ({
        cells: [askedOf(one, study), percent(one.least), foundWords(one), one.verdict],
      })),
      notes: [
        `${verdictRule} All are met only if each is. A verdict on these data and these criteria: no advice to use a limit or an instrument.`,
      ],
    },
  ];
}

function askedOf({ measure, condition }: Judgement, { conditions, protocol }: Judged): string {
  if (measure === "withinAcceptable") {
    return `Differences of M within ±${quantityText(protocol.acceptableDifference)}`;
  }
  const { title } = conditions.find(({ id }) => id === condition)!;
  return `${measure.replace(/^./, (first) => first.toUpperCase())} (${title})`;
}

function foundWords({ found, least }: Judgement): string {
  if (found.kind === "coarse-rate") return rateWords(found);
  return intervalInWords(
    found,
    "%",
    100,
    found.kind === "estimate" ? decimalsBeside(found, least) : 1,
  );
}

/** As many decimals as set the ends of an interval apart from what was asked. */
function decimalsBeside({ low, high }: Estimate, least: number): number {
  const same = (end: number, decimals: number) =>
    end !== least && fixed(100 * end, decimals) === fixed(100 * least, decimals);
  return [1, 2, 3].find((places) => !same(low, places) && !same(high, places)) ?? 4;
}
