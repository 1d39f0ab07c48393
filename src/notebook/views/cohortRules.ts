import type {
  Cohort,
  CohortTable,
  EyeCounts,
  EyeSummary,
  Findings,
  PairingReport,
  ParticipantFlow,
  Readings,
} from "../../cohort/index.js";
import { flowFigure, planFigure } from "../../figures/index.js";
import { planTable, type StudyPlan } from "../../planning/index.js";
import {
  type PrintedComparison,
  type PrintedReproduction,
  printedComparisonTable,
  printedReproductionTable,
} from "../../printed/index.js";
import { type ProgrammeDescription, programmeTables } from "../../programme/index.js";
import type { RuleDecision, RuleDecisions } from "../../rules/index.js";
import { rateText } from "./estimateText.js";
import { countsTable, firstEyes, summaryTable } from "./eyeTables.js";
import { flowTable } from "./flowTable.js";
import { rule, type ViewRule, type ViewRules } from "./view.js";

const rows = (what: string) =>
  rule<Readings | Findings>({
    headline: ({ n }) => `${what}: ${n} rows.`,
    // a row a child is never shown
    tables: () => [],
  });

/** Nothing but a headline of what it is: rows of children, settings, files. */
const named = (words: string): ViewRule<never> => rule({ headline: () => words, tables: () => [] });

const plain: ViewRule<never> = rule({ headline: () => "" });

const plan = rule<StudyPlan>({
  headline: ({ n }) =>
    typeof n === "number"
      ? `${n} children, all losses included.`
      : "No number of children is enough.",
  tables: (result) => [planTable(result)],
  figure: (result) => planFigure(result),
});

export const cohortRules: ViewRules = {
  readings: rows("Readings"),
  findings: rows("Findings"),
  flow: rule<ParticipantFlow>({ headline: () => "", tables: (flow) => [flowTable(flow)] }),
  cohort: rule<Cohort>({
    headline: ({ children }) => `${children.n} children.`,
    tables: ({ flow }) => [flowTable(flow)],
    figure: ({ flow }) => flowFigure(flow),
  }),
  "cohort-table": rule<CohortTable>({
    headline: ({ n, children }) => `${n} eyes of ${children} children.`,
    tables: (table) => [firstEyes(table)],
  }),
  "eye-counts": rule<EyeCounts>({
    headline: () => "",
    tables: (counts) => [countsTable(counts)],
  }),
  "eye-summary": rule<EyeSummary>({
    headline: () => "",
    tables: (summary) => [summaryTable(summary)],
  }),
  "pairing-report": rule<PairingReport>({
    headline: ({ linked, children }) => `${linked} of ${children} children are linked.`,
  }),
  "cohort-decisions": rule({
    headline: ({
      test,
    }: {
      test: { title: string; counts: { refer: number; pass: number; undecidable: number } };
    }) =>
      `${test.title}: ${test.counts.refer} referred, ${test.counts.pass} passed, ${test.counts.undecidable} undecided.`,
    hidden: ["decision", "condition", "subjects"],
  }),
  "rule-decisions": rule<RuleDecisions>({
    headline: ({ title, counts }) =>
      `${title}: ${counts.refer} referred, ${counts.pass} passed, ${counts.undecidable} undecided.`,
    first: ["counts"],
    hidden: ["decision", "cause", "crossed"],
  }),
  "rule-decision": rule<RuleDecision>({
    headline: ({ rule: name, decision }) => `${name}: ${decision}.`,
    first: ["reasons"],
  }),
  programme: rule<ProgrammeDescription>({
    headline: ({ overall }) => {
      const referred = overall.measures.find(({ id }) => id === "referred");
      return referred === undefined ? "" : `${referred.words}: ${rateText(referred.estimate)}.`;
    },
    tables: (programme) => programmeTables(programme),
  }),
  "accuracy-plan": plan,
  "agreement-plan": plan,
  "area-plan": plan,
  "printed-comparison": rule<PrintedComparison>({
    headline: ({ notReproduced }) =>
      notReproduced === 0
        ? "Every printed number is reproduced."
        : `${notReproduced} numbers are not reproduced.`,
    tables: (comparison) => [printedComparisonTable(comparison)],
  }),
  "printed-reproduction": rule<PrintedReproduction>({
    headline: ({ reproduced, notReproduced }) =>
      `${reproduced} of ${reproduced + notReproduced} printed numbers are reproduced.`,
    tables: (reproduction) => [printedReproductionTable(reproduction)],
  }),
  "simulated-cohort": named("An invented cohort: readings, findings and the truth behind them."),
  protocol: rule({
    headline: ({ title, question }: { title: string; question: string }) => `${title}. ${question}`,
    first: ["unit", "audience", "conditions"],
    hidden: ["title", "question", "version", "statement"],
  }),
  study: rule({
    headline: ({ protocol }: { protocol: { title: string } }) =>
      `${protocol.title}: write its report with writeReport, or read it with studyReport.`,
    tables: () => [],
  }),
  "release-comparison": rule({
    headline: ({ message }: { message: string }) => message,
    hidden: ["message", "verdict"],
  }),
  report: rule({
    headline: ({ title }: { title: string }) => `The report "${title}": write it with writeReport.`,
    tables: () => [],
  }),
  ...Object.fromEntries(
    [
      ...["banded-front", "best-of-bands", "categorised-person", "columns", "combined-repeats"],
      ...["deidentification", "file-audit", "identifier-audit", "placed-rules", "preparation"],
      ...["problems-by-rule", "referred-and-found", "rounded-pairs", "rule", "rule-columns"],
      ...["rule-difference", "rule-fronts-by-age-band", "rule-space-size", "rule-stream"],
      ...["scenario-truth"],
    ].map((kind) => [kind, plain]),
  ),
};
