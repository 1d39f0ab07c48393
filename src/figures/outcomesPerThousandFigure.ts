import type { FigureSpec } from "../results/index.js";
import { figureSpec, padding } from "./figureSpec.js";
import {
  outcomeLayers,
  outcomeWords,
  placedOutcomes,
  type ThousandPanel,
} from "./marks/outcomeMarks.js";
import { columnMm, pointsPerMm } from "./theme.js";
import { within } from "./words.js";

/**
 * What a referral does to a thousand, one mark for each: squares are referred, other marks pass; filled
 * in the dark tone, or a diamond, has the condition. Shape and filling say it without colour. Where the
 * shares of a panel leave something over, as ranges of coarse counts do, that many marks are open.
 *
 * Shares are proportions, 0 to 1. Shares that make up all are rounded to whole marks by the largest
 * remainders; others down.
 *
 * @param panels one, or one for each side of the condition
 *
 * @example
 * outcomesPerThousandFigure([{ of: "1000 children screened", parts: [
 *   { outcome: "rightly-referred", share: 0.04, words: "40 (31 to 50)" }, { outcome: "wrongly-referred", share: 0.1, words: "100 (85 to 116)" },
 *   { outcome: "missed", share: 0.01, words: "10 (6 to 17)" }, { outcome: "rightly-passed", share: 0.85, words: "850 (830 to 869)" } ] }]).name // => "outcomes-per-thousand"
 */
export function outcomesPerThousandFigure(
  panels: readonly ThousandPanel[],
  options: {
    /** The condition in words; none by default. */
    readonly condition?: string;
    /** What stands in brackets, in words, such as "95 % intervals". */
    readonly intervals?: string;
  } = {},
): FigureSpec {
  const { condition = "", intervals = "" } = options;
  const placed = placedOutcomes(panels);
  const widthMm = columnMm.single;
  const heightMm = Math.ceil((placed.height + 2 * padding) / pointsPerMm);
  const inside = (mm: number) => mm * pointsPerMm - 2 * padding;
  const said = panels.map(
    ({ of, parts, open = "" }) =>
      `${of}: ${[...parts.map(({ outcome, words }) => `${outcomeWords[outcome]} ${words}`), ...(open === "" ? [] : [open.replace(/\.$/, "")])].join("; ")}`,
  );
  const about = condition === "" ? "" : ` (${within(condition)})`;
  return figureSpec({
    name: "outcomes-per-thousand",
    title: "What the referral does to 1000",
    caption: `What the referral does to 1000${about}, each mark one of them. Squares: referred, filled with the condition, hollow without; diamonds: missed; dots: passed without the condition.${intervals === "" ? "" : ` In brackets: ${intervals}.`}`,
    alt: `What the referral does to 1000${about}, n = 1000. ${said.join(". ")}.`,
    widthMm,
    heightMm,
    spec: {
      layer: outcomeLayers(placed, { width: inside(widthMm), height: inside(heightMm) }),
    },
  });
}
