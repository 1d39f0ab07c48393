import { type CoarseRate, rateWords, restOf } from "../../disclosure/index.js";
import {
  type OutcomePart,
  outcomesPerThousandFigure,
  outcomeWords,
  type ThousandPanel,
} from "../../figures/index.js";
import {
  type Estimate,
  type FigureSpec,
  linearEstimate,
  type TableCell,
  type TableModel,
  type Undefined,
} from "../../results/index.js";
import { grouped, percent } from "../../rows/index.js";
import { estimateDecimals } from "../../tables/index.js";
import type { CoarseCondition, CoarseStudy, PublicProtocol } from "../coarse/coarseStudy.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { intervalInWords } from "./intervalInWords.js";
import { text } from "./tableParts.js";
import { allOf, undecidedOf } from "./undecidedWords.js";

type Share = Estimate | Undefined | CoarseRate;

/** A thousand of some children, by what a referral does to them; shares of 1. */
interface Thousand {
  readonly of: string;
  /** Those referred at all; null where the thousand are of one side of the condition. */
  readonly referred: Share | null;
  readonly parts: readonly {
    readonly outcome: OutcomePart["outcome"];
    readonly share: Share;
  }[];
}

/** What a referral does to a thousand, of one condition, as the report shows it. */
export interface Outcomes {
  readonly title: string;
  readonly thousands: readonly Thousand[];
  readonly protocol: PublicProtocol;
  /** Those whom the reading does not decide, in words; "" where there are none. */
  readonly undecided: string;
}

/** Of an exact result; null where the result is of before, or nothing is known. */
export function exactOutcomes(
  condition: ConditionResult,
  { protocol }: Pick<StudyResult, "protocol">,
): Outcomes | null {
  const { outcomes, verification, accuracy, title } = condition;
  const rates = verification?.corrected ?? accuracy;
  if (protocol.sampling === "enriched") return sidesOf(title, rates, protocol, other);
  if (outcomes === undefined) return null;
  const n = allOf(undecidedOf(condition, protocol));
  return {
    ...screenedOf(title, outcomes, protocol),
    undecided: n === 0 ? "" : `${grouped(n)} whom the reading does not decide`,
  };
}

/** Of coarse counts; null where they are withheld. */
export function coarseOutcomes(
  { title, counts }: CoarseCondition,
  { protocol }: Pick<CoarseStudy, "protocol">,
): Outcomes | null {
  if (counts === null) return null;
  const { rates } = counts;
  if (protocol.sampling === "enriched") {
    const { sensitivity, specificity } = rates;
    return sensitivity && specificity
      ? sidesOf(title, { sensitivity, specificity }, protocol, restOf)
      : null;
  }
  return rates.found === null ? null : screenedOf(title, rates, protocol);
}

const other = (share: Estimate | Undefined) => linearEstimate(share, -1, 1);
const notKnown: Undefined = {
  kind: "undefined",
  reason: "nobody who passed stands for the others",
};

function screenedOf(
  title: string,
  shares: {
    readonly [measure in
      | "referred"
      | "found"
      | "wronglyReferred"
      | "missed"
      | "rightlyPassed"]: Share | null;
  },
  protocol: PublicProtocol,
): Outcomes {
  const of = (share: Share | null) => share ?? notKnown;
  return {
    title,
    protocol,
    undecided: "those whom the reading does not decide",
    thousands: [
      {
        of: `1000 ${rowsOf(protocol)} screened`,
        referred: of(shares.referred),
        parts: [
          { outcome: "rightly-referred", share: of(shares.found) },
          { outcome: "wrongly-referred", share: of(shares.wronglyReferred) },
          { outcome: "missed", share: of(shares.missed) },
          { outcome: "rightly-passed", share: of(shares.rightlyPassed) },
        ],
      },
    ],
  };
}

/** Where cases are over-represented nobody knows a thousand screened, but a thousand of each side. */
function sidesOf<Of extends Share>(
  title: string,
  { sensitivity, specificity }: { readonly sensitivity: Of; readonly specificity: Of },
  protocol: PublicProtocol,
  rest: (share: Of) => Of,
): Outcomes {
  const rows = rowsOf(protocol);
  return {
    title,
    protocol,
    undecided: "",
    thousands: [
      {
        of: `1000 ${rows} with the condition`,
        referred: null,
        parts: [
          { outcome: "rightly-referred", share: sensitivity },
          { outcome: "missed", share: rest(sensitivity) },
        ],
      },
      {
        of: `1000 ${rows} without it`,
        referred: null,
        parts: [
          { outcome: "wrongly-referred", share: rest(specificity) },
          { outcome: "rightly-passed", share: specificity },
        ],
      },
    ],
  };
}

/** The marks, with the numbers of the table; nothing where no number is known. */
export function outcomesFigure({ title, thousands, protocol }: Outcomes, id: string): FigureSpec[] {
  const panels = thousands.map(
    ({ of, parts }): ThousandPanel => ({
      of,
      parts: parts.map(({ outcome, share }) => ({
        outcome,
        share: leastOf(share),
        words: `${numberWords(share)}${isOpenAlone(share) ? ", drawn as open circles" : ""}`,
      })),
      open: openWords(parts.map(({ share }) => share)),
    }),
  );
  if (panels.every(({ parts }) => parts.every(({ share }) => share === null))) return [];
  const figure = outcomesPerThousandFigure(panels, {
    condition: title,
    intervals: `${percent(protocol.level)} intervals`,
  });
  return [{ ...figure, name: `outcomes-per-thousand-${id}` }];
}

/** "Of 1000 children screened: 145 (131 to 160) referred, of them ...". */
export function outcomesSentences({ title, thousands, undecided, protocol }: Outcomes): string[] {
  const isKnown = thousands.some(({ parts }) => parts.some(({ share }) => leastOf(share) !== null));
  if (!isKnown) return [];
  return [
    `${title}. ${thousands
      .map(({ of, referred, parts }) => {
        const all = referred === null ? [] : [`referred ${numberWords(referred)}`];
        const own = parts.map(
          ({ outcome, share }) => `${outcomeWords[outcome]} ${numberWords(share)}`,
        );
        return `Of ${of}: ${[...all, ...own].join("; ")}.`;
      })
      .join(" ")}${undecidedWords(undecided, protocol)}`,
  ];
}

/** That those without a decision are in a number: of the public without their count. */
function undecidedWords(undecided: Outcomes["undecided"], protocol: PublicProtocol): string {
  if (undecided === "" || protocol.undecidable === "exclude") return "";
  return ` Among those ${protocol.undecidable === "refer" ? "referred" : "passed"} are counted ${undecided}.`;
}

/** The same numbers in a table. */
export function outcomesTable({ title, thousands, protocol }: Outcomes): TableModel {
  const label = (words: string) => words.replace(/^./, (first) => first.toUpperCase());
  const cell = (share: Share): TableCell =>
    share.kind === "coarse-rate" ? numberWords(share) : linearEstimate(share, 1000);
  const isCoarse = thousands.some(({ parts }) =>
    parts.some(({ share }) => share.kind === "coarse-rate"),
  );
  return {
    kind: "table",
    title: `Of 1000, what the referral does: ${title}`,
    columns: [
      text("Outcome"),
      {
        label: isCoarse
          ? `Range (outermost ${percent(protocol.level)} limits)`
          : `Of 1000 (${percent(protocol.level)} interval)`,
        format: "per-1000",
      },
    ],
    rows: thousands.flatMap(({ of, referred, parts }) => [
      { cells: [`Of ${of}`, null], heading: true },
      ...(referred === null ? [] : [{ cells: ["Referred", cell(referred)] }]),
      ...parts.map(({ outcome, share }) => ({
        cells: [label(outcomeWords[outcome]), cell(share)],
      })),
    ]),
    notes: [
      protocol.verification === "complete"
        ? "Shares of those whose condition is known."
        : "Corrected for who was examined: the examined stand for the others of the same decision.",
    ],
  };
}

/** Whether not one mark of a range is certain. */
const isOpenAlone = (share: Share) =>
  share.kind === "coarse-rate" && 1000 * share.from < 1 && share.to > share.from;

/** Share that is certain: the value, or the lower end of a range. */
function leastOf(share: Share): number | null {
  if (share.kind === "undefined") return null;
  return share.kind === "estimate" ? share.value : share.from;
}

/** As the table prints it. */
function numberWords(share: Share): string {
  if (share.kind === "coarse-rate") return rateWords(share, 1000, "");
  const width =
    share.kind === "estimate" ? share.high - share.low : (share.high ?? 1) - (share.low ?? 0);
  const decimals = estimateDecimals(1000 * width, "per-1000") ?? 0;
  if (share.kind === "estimate") return intervalInWords(share, "", 1000, decimals);
  const { low, high } = share;
  return low === undefined || high === undefined
    ? "not estimated"
    : intervalInWords({ ...share, reason: "no single value" }, "", 1000, decimals);
}

function openWords(shares: readonly Share[]): string {
  if (shares.some(({ kind }) => kind === "coarse-rate")) {
    return "Open circles: of one kind above or another. Rounded counts leave open which; each kind may take them up to the upper end of its range.";
  }
  return shares.some(({ kind }) => kind === "undefined") ? "Which of these is not known." : "";
}

function rowsOf({ unit }: PublicProtocol): string {
  return unit === "child" ? "children" : "eyes";
}
