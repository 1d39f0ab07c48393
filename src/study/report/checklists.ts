import type { TableModel, TableRow } from "../../results/index.js";
import { quantityText } from "../../rows/index.js";
import type { CoarseStudy } from "../coarse/coarseStudy.js";
import { policyWords } from "../run/referralWords.js";
import { text } from "./tableParts.js";

/**
 * Reporting items of STARD 2015 (Bossuyt and others, BMJ 351:h5527) in our words: where this report
 * meets an item, and what the author still has to write.
 */
export function accuracyChecklist(
  { protocol, protocolHash }: Pick<CoarseStudy, "protocol" | "protocolHash">,
  chosen: boolean,
): TableModel {
  const rows: readonly (readonly [string, string, string, string])[] = [
    [
      "1, 2",
      "Title and abstract name a measure of accuracy",
      "The question and the answer",
      "title, abstract",
    ],
    [
      "3, 4",
      "Background, intended use, objectives",
      "The question in the protocol",
      "background and intended use",
    ],
    [
      "5",
      "Data collected before or after the tests were planned",
      "",
      "prospective or retrospective",
    ],
    [
      "6 to 9",
      "Eligibility; how, where, when participants were found; series",
      eligibilityWords(protocol),
      "setting, dates, kind of series",
    ],
    [
      "10a, 10b",
      "Index test and reference standard, to be repeated",
      "Methods",
      "settings, who did it, drops, time waited",
    ],
    ["11", "Why this reference standard", "", "the reason"],
    [
      "12a",
      "Limits of the index test, fixed in advance or not",
      `Methods: fixed in the protocol${chosen ? "; a chosen limit is set apart" : ""}`,
      "",
    ],
    ["12b", "Definition of the condition, fixed in advance or not", "Methods", ""],
    ["13a, 13b", "Who knew which result", "", "masking, both ways"],
    ["14", "How accuracy was estimated", "Methods, with interval methods named", ""],
    [
      "15",
      "Readings and findings without a decision",
      `${policyWords[protocol.undecidable].replace(/^./, (first) => first.toUpperCase())}; ${protocol.audience === "public" ? "other ways are not for the public" : "the other ways beside it"}`,
      "",
    ],
    ["16", "Missing data", "Who was studied; what the unexamined hide", ""],
    [
      "17",
      "Variation of accuracy",
      protocol.subgroups.length > 0 ? "By subgroup, with a test" : "No subgroup in the protocol",
      "",
    ],
    ["18", "Intended sample size and how it came", "", "sample size"],
    ["19", "Flow of participants", "Who was studied", ""],
    ["20", "Baseline characteristics", "", "what the data do not hold"],
    [
      "21a, 21b",
      "Severity in those with, alternatives in those without",
      "The ROC curve and the difference plots",
      "other diagnoses",
    ],
    ["22", "Time and treatment between test and reference", "", "interval, new glasses"],
    ["23", "Cross tabulation", "Counts", ""],
    ["24", "Estimates with their precision", "Accuracy", ""],
    ["25", "Adverse events", "", "of the test and of the drops"],
    ["26, 27", "Limitations and implications", "Limitations, from the data", "implications"],
    [
      "28 to 30",
      "Registration, protocol, funding",
      `Protocol hash ${protocolHash.slice(0, 12)}`,
      "registration, funding",
    ],
  ];
  return checklist("Reporting items for accuracy (STARD 2015, in our words)", rows, [
    "Items 19 to 30 are written from memory; check the published checklist.",
  ]);
}

/** Reporting items for agreement studies, after the proposals that Gerke 2020 collects. */
export function agreementChecklist({ protocol }: Pick<CoarseStudy, "protocol">): TableModel {
  const { acceptableDifference } = protocol;
  const rows: readonly (readonly [string, string, string, string])[] = [
    [
      "1",
      "Acceptable difference stated in advance",
      `${quantityText(acceptableDifference)} of M`,
      "why this one",
    ],
    ["2", "Structure of the data", "Methods: unit and eyes", ""],
    ["3", "Repeatability of each method", "", "needs repeated readings"],
    [
      "4",
      "Plot, and a look at normality, trend and spread",
      "The difference plots; notes below the table",
      "",
    ],
    ["5", "Transformation where needed", "None: M, J0 and J45 may be negative", ""],
    ["6, 8", "Bias and limits, drawn and in numbers", "Agreement", ""],
    ["7, 9", "Intervals of the bias and of the limits", "Agreement, method named", ""],
    ["10", "A range of values wide enough", "The difference plots", "the population it stands for"],
    ["11", "Repeated values respected", "Methods: intervals over children where eyes repeat", ""],
    ["12, 13", "Software and assumptions", "Methods, manifest.json", ""],
    ["14", "Sample size", "", "how it came"],
    ["16", "Interests", "", "to be declared"],
  ];
  return checklist("Reporting items for agreement (after Gerke 2020, in our words)", rows, []);
}

function checklist(
  title: string,
  rows: readonly (readonly [string, string, string, string])[],
  notes: readonly string[],
): TableModel {
  const cells = (row: readonly string[]): TableRow => ({ cells: row.map((cell) => cell || "–") });
  return {
    kind: "table",
    title,
    columns: [text("Item"), text("What"), text("Met here"), text("Author to write")],
    rows: rows.map(cells),
    notes,
  };
}

function eligibilityWords({ eligibility }: CoarseStudy["protocol"]): string {
  const { ageMonths, ageYears } = eligibility;
  if (ageMonths !== undefined) return `Age ${ageMonths[0]} to below ${ageMonths[1]} months`;
  if (ageYears !== undefined) return `Age ${ageYears[0]} to below ${ageYears[1]} years`;
  return "No limit of age in the protocol";
}
