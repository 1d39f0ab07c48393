import { proportionInterval, normalQuantile } from "../../inference/index.js";
import type { Protocol } from "../../protocol/index.js";
import type { TableModel, TableRow } from "../../results/index.js";
import { grouped, percent, printSigns } from "../../rows/index.js";
import {
  bandText,
  comparison,
  limitText,
  movableLimits,
  type ReferralRule,
} from "../../rules/index.js";
import { sumOfCounts } from "../publish/benchReadout.js";
import type { RuleBench } from "../publish/ruleBenchHtml.js";
import type { MovedLimits, RuleCounts } from "../run/movedLimits.js";
import type { ConditionResult, StudyResult } from "../run/studyResult.js";
import { intervalInWords } from "./intervalInWords.js";
import { waysOfCounting } from "./reconciliation.js";
import type { ReportBlock } from "./report.js";
import { count, text } from "./tableParts.js";
import { rowsOf } from "./undecidedWords.js";

/** The rule band by band, and the bench on which its limits move; in words where none can. */
export function ruleBenchBlocks(condition: ConditionResult, result: StudyResult): ReportBlock[] {
  const { protocol } = result;
  const { title, rules } = condition;
  const none = (why: string): ReportBlock[] => [
    { kind: "paragraph", text: `${title}: no limit to move. ${why}` },
  ];
  const rule = rules?.refer ?? null;
  if (rule === null || rules?.moved === undefined || rules.moved === null) {
    const { curve } = condition;
    return curve.kind === "undefined" ? none(sentence(curve.reason)) : [];
  }
  if (protocol.clusters === "site") {
    return none(
      "Children of one site are alike, so that no interval follows from counts added in a page.",
    );
  }
  if (protocol.verification === "none") {
    return none("No child who passed was examined: the missed are unknown wherever limits stand.");
  }
  if (rules.moved.bands.every(({ limits }) => limits.length === 0)) {
    return none("Its limits have two ends, stand under a not, or are shared by several age bands.");
  }
  return [
    bandsTable(condition, rules.moved, protocol),
    ruleBench(condition, { rule, moved: rules.moved }, protocol),
  ];
}

/** What stands where nothing moves: the rule fixed in advance, each age band and all of them. */
function bandsTable(
  { title, verification }: ConditionResult,
  { bands, still }: MovedLimits,
  { level, unit }: Protocol,
): TableModel {
  const examined = verification === null ? "" : `, ${waysOfCounting.examined}`;
  const rate = (label: string) => ({ label, format: "percent" }) as const;
  const row = (label: string, { table, screened, referred }: RuleCounts): TableRow => {
    const { truePositive, falsePositive, falseNegative, trueNegative } = table;
    const share = (successes: number, others: number) =>
      proportionInterval({ successes, trials: successes + others }, { level });
    return {
      cells: [
        label,
        screened,
        referred,
        truePositive,
        falsePositive,
        falseNegative,
        trueNegative,
        share(truePositive, falseNegative),
        share(trueNegative, falsePositive),
      ],
    };
  };
  const all = [...bands.map(({ asFixed }) => asFixed), still];
  return {
    kind: "table",
    title: `The rule band by band: ${title}`,
    columns: [
      text("Age"),
      count(`Screened ${rowsOf(unit)}`),
      count("Referred of them"),
      count("Examined: referred, with the condition"),
      count("Referred, without it"),
      count("Passed, with it (missed)"),
      count("Passed, without it"),
      rate(`Sensitivity${examined}`),
      rate(`Specificity${examined}`),
    ],
    rows: [
      ...bands.map(({ ageMonths, asFixed }) => row(bandText(ageMonths), asFixed)),
      ...(still.screened === 0 ? [] : [row("Of an age that allows several bands", still)]),
      ...(bands.length === 1 && still.screened === 0 ? [] : [row("All", sumOfCounts(all))]),
    ],
    notes: ["Every limit as fixed in advance.", ...(verification === null ? [] : [biased])],
  };
}

const biased =
  "As examined: the referred are examined more often, so that sensitivity comes out too high and specificity too low. The rates corrected for that are not sums of counts, and are known for the rule fixed in advance alone.";

function ruleBench(
  { id, title, accuracy, verification }: ConditionResult,
  { rule, moved }: { readonly rule: ReferralRule; readonly moved: MovedLimits },
  { level, unit, undecidable, sampling, outputs }: Protocol,
): RuleBench {
  const partly = verification !== null;
  const byPath = new Map(movableLimits(rule).map((one) => [String(one.path), one]));
  const ownOf = (path: readonly (string | number)[]) => byPath.get(String(path))!;
  const { prevalence, positivePredictiveValue: predictive } = accuracy;
  const policy = {
    refer: "counted as referred",
    pass: "counted as passed",
    exclude: "left out",
  }[undecidable];
  const still =
    moved.still.screened === 0
      ? ""
      : ` ${grouped(moved.still.screened)} ${rowsOf(unit)} whose age allows several bands stay as the rule fixed in advance decides them.`;
  const step = `In each age band one limit moves at a time and its others stand as fixed in advance; who cannot be decided is ${policy}.${still}`;
  return {
    kind: "rule-bench",
    id,
    title,
    data: {
      kind: "rule-bench",
      id,
      rule,
      bands: moved.bands.map(({ asFixed, limits }) => ({
        asFixed,
        limits: limits.map(({ path, limit, stops }) => ({
          path,
          fixed: stops.findIndex((stop) => stop.limit === limit),
          stops: stops.map((stop) => ({
            ...stop,
            words: printSigns(comparison({ ...ownOf(path).limit, limit: stop.limit })),
          })),
        })),
      })),
      still: moved.still,
      critical: normalQuantile(1 - (1 - level) / 2),
      noPredictive:
        sampling === "enriched" && predictive.kind === "undefined" ? predictive.reason : null,
      partly,
      rows: rowsOf(unit),
      samplePrevalence: !partly && prevalence.kind === "estimate" ? prevalence.value : null,
    },
    bands: moved.bands.map(({ ageMonths, limits }) => ({
      words: ageMonths === null ? "Every age" : `Age ${bandText(ageMonths)}`,
      limits: limits.map(({ path }) => printSigns(limitText(ownOf(path).limit))),
    })),
    step,
    level,
    row: `${rowsOf(unit)}${partly ? `, ${waysOfCounting.examined}` : ""}`,
    counting: partly ? `, ${waysOfCounting.examined}` : "",
    note: `Intervals: ${percent(level)}, by Wilson, of the counts added over the bands${partly ? "" : "; predictive values at another prevalence by the logit of the likelihood ratio"}. They do not know that limits were chosen by looking. ${
      verification === null
        ? "Referred of 1000 is the sum of its two parts, without an interval of its own. Weights and exams are your own numbers, not a result."
        : `${biased} ${correctedWords(verification)}`
    }`,
    elsewhere:
      outputs === undefined || outputs.includes("html")
        ? `Move the limits of "${title}", one in each age band, on the page report.html. ${step}`
        : `The protocol asks for no page on which the limits of "${title}" could be moved.`,
  };
}

/** What the bias amounts to, at the one place where that is known. */
function correctedWords({ corrected }: NonNullable<ConditionResult["verification"]>): string {
  const { sensitivity, specificity } = corrected;
  return `There, ${waysOfCounting.corrected}: sensitivity ${intervalInWords(sensitivity, "%", 100)}, specificity ${intervalInWords(specificity, "%", 100)}.`;
}

function sentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}
