import type { StudyAttack } from "./attackStudy.js";

/** What a run of the red team found. */
export interface TeamSummary {
  readonly cohorts: number;
  /** Cohorts that no report was written of, by the reason. */
  readonly refused: { readonly [reason: string]: number };
  readonly children: readonly [least: number, most: number];
  readonly files: number;
  /** Small counts that were tried. */
  readonly tried: number;
  readonly disclosed: readonly string[];
  readonly elsewhere: readonly string[];
  readonly mistakes: readonly string[];
  /** Cohorts of each choice. */
  readonly shapes: { readonly [shape: string]: number };
  /** Of cohorts of 500 children and more: shares of cohorts near enough, of those in which the number is shown. */
  readonly useful: {
    readonly cohorts: number;
    readonly flowWithin2Percent: Share;
    readonly specificityWithin5Points: Share;
    readonly sensitivityWithin5Points: Share;
  };
  /** Of smaller cohorts: quartiles of the width of the printed range, in percent points. */
  readonly widthBelow500: {
    readonly sensitivity: readonly number[];
    readonly specificity: readonly number[];
  };
}

interface Share {
  readonly share: number;
  readonly of: number;
}

export function summaryOf(attacks: readonly StudyAttack[]): TeamSummary {
  const written = attacks.filter(({ refused }) => refused === undefined);
  const counted = (words: readonly string[]) => {
    const counts: Record<string, number> = {};
    for (const word of [...words].sort()) counts[word] = (counts[word] ?? 0) + 1;
    return counts;
  };
  const told = (name: "disclosed" | "elsewhere" | "mistakes") =>
    attacks.flatMap((one) => one[name].map((words) => `cohort ${one.seed}: ${words}`));
  const sum = (name: "files" | "tried") => attacks.reduce((all, one) => all + one[name], 0);
  const children = attacks.map((one) => one.children);
  const large = written.filter((one) => one.children >= 500);
  const small = written.filter((one) => one.children < 500);
  const shareOf = (values: readonly (number | null | undefined)[], most: number): Share => {
    const known = values.filter((value): value is number => typeof value === "number");
    const near = known.filter((value) => value <= most).length;
    return { share: Number((near / Math.max(1, known.length)).toFixed(3)), of: known.length };
  };
  const quartiles = (values: readonly (number | undefined)[]) => {
    const sorted = values.filter((value) => value !== undefined).sort((one, other) => one - other);
    return [0.25, 0.5, 0.75].map((share) => sorted[Math.floor(share * sorted.length)] ?? 0);
  };
  return {
    cohorts: attacks.length,
    refused: counted(attacks.flatMap(({ refused }) => (refused ? [refused.split("\n")[0]!] : []))),
    children: [Math.min(...children), Math.max(...children)],
    files: sum("files"),
    tried: sum("tried"),
    disclosed: told("disclosed"),
    elsewhere: told("elsewhere"),
    mistakes: told("mistakes"),
    shapes: counted(written.flatMap(({ shape }) => shape)),
    useful: {
      cohorts: large.length,
      flowWithin2Percent: shareOf(
        large.map(({ useful }) => useful?.flow),
        0.02,
      ),
      specificityWithin5Points: shareOf(
        large.map(({ useful }) => useful?.specificity?.off),
        5,
      ),
      sensitivityWithin5Points: shareOf(
        large.map(({ useful }) => useful?.sensitivity?.off),
        5,
      ),
    },
    widthBelow500: {
      sensitivity: quartiles(small.map(({ useful }) => useful?.sensitivity?.width)),
      specificity: quartiles(small.map(({ useful }) => useful?.specificity?.width)),
    },
  };
}
