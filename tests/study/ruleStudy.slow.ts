import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { correctByDecision, crossClassify } from "../../src/accuracy/index.js";
import { type Cohort, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { defineProtocol, type Protocol, ruleOf } from "../../src/protocol/index.js";
import type { FigureSpec } from "../../src/results/index.js";
import { applyRule, decideCohort } from "../../src/rules/index.js";
import { runStudy, type StudyResult, studyReport } from "../../src/study/index.js";
import { reportMarkdown } from "../../src/study/publish/writeMarkdown.js";
import { conditionRows } from "../../src/study/run/conditionRows.js";
import { demoPart } from "../builders/demoPart.js";

// A third of the children of the invented programme, a referral rule of readings against a published definition.
const json = JSON.parse(await readFile("data/demo/rule-protocol.json", "utf8"));
const protocolWith = (change: (draft: typeof json) => void = () => {}): Protocol => {
  const draft = structuredClone(json);
  draft.replicates = 40;
  draft.conditions = [draft.conditions[0]];
  change(draft);
  return defineProtocol(draft);
};
const run = (protocol: Protocol, workers = 1) => runStudy(protocol, { folder, workers });

let folder: string;
let cohort: Cohort;
let eligible: (child: number) => boolean;
let result: StudyResult;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-rules-"));
  await demoPart(folder);
  const columns = JSON.parse(await readFile("data/demo/columns.json", "utf8"));
  const read = { columns, allowIdentifiers: ["age_months"] };
  cohort = linkCohort({
    readings: await readReadings(join(folder, "invented-readings.csv"), read),
    findings: await readFindings(join(folder, "invented-findings.csv"), read),
    instrument: "handheld",
    cycloplegia: "none",
    correction: "none",
    repeats: "last",
    daysBetween: [0, 365],
    referenceCycloplegia: ["full"],
  });
  const { ageMonths, readingRow } = cohort.children;
  eligible = (child) =>
    ageMonths[child] >= 36 &&
    ageMonths[child] < 84 &&
    Math.max(readingRow.right[child], readingRow.left[child]) >= 0;
  result = await run(protocolWith());
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Rows of the condition among the eligible with such a decision. */
const conditionRowsWhere = (keep: (test: boolean | "undecidable") => boolean): number => {
  const rows = conditionRows(cohort, result.protocol, result.protocol.conditions[0]);
  return rows.test.filter((test, row) => eligible(rows.subjects[row]) && keep(test)).length;
};

const rulesOf = ({ conditions }: Protocol) => ({
  refer: ruleOf(conditions[0].referWhen, "reading")!,
  condition: ruleOf(conditions[0].target, "finding")!,
});

describe("a study by rules", () => {
  it("counts as the rules room does on the same children", () => {
    const decided = decideCohort(cohort, rulesOf(result.protocol));
    const rows = Array.from(decided.subjects.keys()).filter((row) =>
      eligible(decided.subjects[row]),
    );
    const columns = {
      test: rows.map((row) => decided.decision[row]),
      reference: rows.map((row) => decided.condition[row]),
    };
    const [condition] = result.conditions;
    expect(condition.n).toBe(rows.length);
    expect(condition.table).toEqual(crossClassify(columns, { undecidable: "refer" }));
    expect(condition.undecidable).toBe(columns.test.filter((one) => one === "undecidable").length);
    expect(condition.undecidable).toBeGreaterThan(0);
    const found = condition.rules!.referredAndFound!;
    const of = (name: string) => found.rows.find(({ referredFor }) => referredFor === name)!;
    expect(found.n).toBe(rows.length);
    expect(of("pass").children).toBe(condition.table.falseNegative + condition.table.trueNegative);
    expect(of("pass").foundNothing).toBe(condition.table.trueNegative);
    expect(of("undecidable").children).toBe(condition.undecidable);
    const { reasons } = condition.rules!;
    expect(reasons!.reduce((sum, { children }) => sum + children, 0)).toBe(
      condition.screened - conditionRowsWhere((test) => test !== true),
    );
  });

  it("leaves out who cannot be decided by age, whatever the policy, and counts them", async () => {
    const [condition] = result.conditions;
    const { ageMonths, n } = cohort.children;
    const beyond = Array.from({ length: n }, (_, child) => child).filter(
      (child) => eligible(child) && ageMonths[child] >= 73,
    );
    expect(condition.rules!.undecidedByAge).toEqual([
      { by: "finding", cause: "no-band", children: beyond.length },
    ]);
    const screened = result.flow.boxes.find(({ id }) => id === "screened")!.children;
    expect(condition.screened + beyond.length).toBe(screened);
    const excluded = await run(protocolWith((p) => (p.undecidable = "exclude")));
    expect(excluded.conditions[0].rules!.undecidedByAge).toEqual(condition.rules!.undecidedByAge);
    expect(excluded.conditions[0].n).toBe(condition.n - condition.undecidable);
    expect(result.limitations.join(" ")).toContain(`${beyond.length} screened children`);
  });

  it("has no curve on one variable, says why, and gives one curve a condition by definition", () => {
    const [condition] = result.conditions;
    expect(condition.curve).toMatchObject({ kind: "undefined", reason: /a rule refers/ });
    expect(condition.area).toEqual(condition.curve);
    expect([condition.chosen, condition.weighted]).toEqual([null, null]);
    const { curves } = condition.rules!;
    expect(curves.map(({ id, area }) => [id, area.kind])).toEqual([
      ["hyperopia", "estimate"],
      ["myopia", "estimate"],
      ["astigmatism", "estimate"],
      ["anisometropia", "estimate"],
      ["mediaOpacity", "undefined"],
    ]);
    // by definition: the higher most positive meridian of both eyes against hyperopia at the exam,
    // beyond +4.50, +4.00 or +3.50 D by age; pairs counted one by one, weights by hand
    const { children, readings, findings } = cohort;
    const meridian = (
      source: Pick<typeof readings, "sphere" | "cylinder" | "status">,
      row: number,
    ) =>
      row < 0 || source.status.codes[row] !== 0
        ? Number.NaN
        : source.sphere[row] + Math.max(0, source.cylinder[row]);
    const higher = (source: typeof readings | typeof findings, rows: typeof children.readingRow) =>
      Array.from({ length: children.n }, (_, child) => [
        meridian(source, rows.right[child]),
        meridian(source, rows.left[child]),
      ]);
    const read = higher(readings, children.readingRow);
    const seen = higher(findings, children.findingRow);
    const refers = applyRule(rulesOf(result.protocol).refer, cohort).decision.codes;
    const decided: { value: number; sick: boolean | null; stratum: string; enters: boolean }[] = [];
    for (let child = 0; child < children.n; child++) {
      const months = children.ageMonths[child];
      const value = Math.max(...read[child]);
      if (!eligible(child) || months >= 73 || Number.isNaN(value)) continue;
      const limit = months < 31 ? 4.5 : months < 49 ? 4 : 3.5;
      const sick = seen[child].some((one) => one > limit)
        ? true
        : seen[child].some(Number.isNaN)
          ? null
          : false;
      const referred = refers[child] !== 0;
      const word = (column: { codes: ArrayLike<number>; labels: readonly string[] }) =>
        column.labels[column.codes[child]];
      const reason = word(children.verificationReason);
      const recorded = word(children.programmeDecision!);
      // who came by himself is known of the drawn too: they are a stratum of their own
      const came = word(children.selfPresented!) === "yes" || reason === "self-presented";
      const own = sick !== null && recorded === "pass" && came;
      decided.push({
        value,
        sick,
        stratum: `${recorded} ${referred} ${own ? "own" : recorded === "unable" || months < 60}`,
        enters: sick !== null && (own || recorded !== "pass" || reason === "sampled"),
      });
    }
    const area = (rows: { value: number; sick: boolean | null; weight: number }[]) => {
      let [won, pairs] = [0, 0];
      const sick = rows.filter((row) => row.sick === true);
      for (const other of rows.filter((row) => row.sick === false)) {
        for (const one of sick) {
          const weight = one.weight * other.weight;
          pairs += weight;
          if (one.value > other.value) won += weight;
          else if (one.value === other.value) won += weight / 2;
        }
      }
      return won / pairs;
    };
    const [hyperopia] = curves;
    const plain = decided.filter(({ sick }) => sick !== null).map((row) => ({ ...row, weight: 1 }));
    if (hyperopia.area.kind === "undefined") throw new Error(hyperopia.area.reason);
    expect(hyperopia.area.value).toBeCloseTo(area(plain), 12);
    const weighted = decided
      .filter(({ enters }) => enters)
      .map((row) => {
        const own = decided.filter(({ stratum }) => stratum === row.stratum);
        return { ...row, weight: own.length / own.filter(({ enters }) => enters).length };
      });
    if (hyperopia.weightedArea?.kind !== "estimate") throw new Error("no weighted area");
    expect(hyperopia.weightedArea.value).toBeCloseTo(area(weighted), 10);
  });

  it("has a curve where the target's rule is one condition and a limit refers", async () => {
    const one = await run(
      protocolWith((p) => {
        p.conditions = [json.conditions[1]];
        delete p.criteria; // the condition is exploratory
        p.conditions[0].choose = { criterion: "youden" };
      }),
    );
    const [condition] = one.conditions;
    expect(condition.curve.kind).toBe("roc-curve");
    expect(condition.chosen!.positiveWhen).toBe("high");
    expect(condition.weighted!.chosen).toMatchObject({ weighting: "examination" });
    const two = await run(
      protocolWith((p) => {
        p.conditions[0].referWhen = { quantity: "M", relation: ">=", limit: 2 };
      }),
    );
    expect(two.conditions[0].curve).toMatchObject({
      kind: "undefined",
      reason: expect.stringContaining("the target joins hyperopia, myopia"),
    });
    expect(two.conditions[0].rules!.curves.length).toBe(5);
    expect(two.conditions[0].rules!.reasons).toBe(null);
  });

  it("corrects within the groups in which children were drawn, and by every policy", () => {
    const { protocol } = result;
    const rows = conditionRows(cohort, protocol, protocol.conditions[0]);
    const kept = rows.subjects.flatMap((child, row) => (eligible(child) ? [row] : []));
    const { ageMonths } = cohort.children;
    const { verification } = result.conditions[0];
    const { programmeDecision, selfPresented } = cohort.children;
    const wordOf = (column: { codes: ArrayLike<number>; labels: readonly string[] }) =>
      kept.map((row) => column.labels[column.codes[rows.subjects[row]]]);
    const columns = {
      recorded: wordOf(programmeDecision!),
      test: kept.map((row) => rows.test[row]),
      reference: kept.map((row) => rows.reference[row]),
      reason: kept.map((row) => rows.reason[row]),
      selfPresented: wordOf(selfPresented!).map((word) =>
        word === "unknown" ? null : word === "yes",
      ),
      strata: kept.map((row) => String(ageMonths[rows.subjects[row]] < 60)),
    };
    for (const { policy, corrected } of verification!.byPolicy) {
      const { level, seed } = protocol;
      const by = correctByDecision(columns, { undecidable: policy, level, seed });
      expect(new Set(corrected.cells.map(({ group }) => group)).size).toBeGreaterThan(2);
      expect(corrected.sensitivity.value).toBe(by.sensitivity.value);
      expect(corrected.specificity.value).toBe(by.specificity.value);
      expect(corrected.bounds).toEqual(by.bounds);
    }
    expect(verification!.corrected).toEqual(
      verification!.byPolicy.find(({ policy }) => policy === "refer")!.corrected,
    );
  });

  it("is the same for one and for two threads, and survives JSON", async () => {
    const text = JSON.stringify(result);
    expect(JSON.stringify(await run(protocolWith(), 2))).toBe(text);
    expect(JSON.parse(text)).toEqual(result);
    expect(text).not.toMatch(/NaN|"D\d{5}"/);
  });
});

describe("the report of a study by rules", () => {
  const figuresOf = (study: StudyResult): FigureSpec[] =>
    studyReport(study).sections.flatMap(({ blocks }) =>
      blocks.filter((block): block is FigureSpec => block.kind === "figure"),
    );

  it("shows the rules in words, the reasons, what was found, and the curves", () => {
    const page = reportMarkdown(studyReport(JSON.parse(JSON.stringify(result))));
    for (const words of [
      "Invented dry limits (of a reading)",
      "Amblyopia risk factors, AAPOS 2013 (of an exam finding)",
      "As published; may be superseded",
      "the age is outside all bands of the rule",
      'referral by the rule "Invented dry limits"',
      "One curve a condition",
      "The rule band by band",
      "Move the limits of",
      "What children were referred for, and what the exam found",
      "Area, weighted for who was examined",
      "strong logic of Kleene",
    ]) {
      expect(page).toContain(words);
    }
    expect(figuresOf(result).map(({ name }) => name)).toEqual([
      "outcomes-per-thousand-risk-factors",
      "participant-flow",
      "difference-against-mean-M",
      "funnel-referred-by-site",
      "funnel-follow-up-by-site",
      "difference-against-mean-J0",
      "difference-against-mean-J45",
      "double-angle-difference",
      "referral-reasons-risk-factors",
      "referred-against-found-risk-factors",
      "roc-risk-factors-hyperopia",
      "roc-risk-factors-myopia",
      "roc-risk-factors-astigmatism",
      "roc-risk-factors-anisometropia",
    ]);
    const names = figuresOf(result).map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  });

  it("shows the public no count below 11", async () => {
    const open = await run(protocolWith((p) => (p.audience = "public")));
    // reasons, findings and curves of rules share children with the 2x2 table: none is for the public
    expect(figuresOf(open).filter(({ name }) => /^(refer|roc-)/.test(name))).toEqual([]);
    const page = reportMarkdown(studyReport(open));
    expect(page).not.toContain("In the other eye only");
    const accuracy = page.slice(page.indexOf("## How often is the referral right?"));
    const counts = [...accuracy.matchAll(/^\| (?:Referred|Passed|All)[^|]*\|(.*)\|$/gm)].map(
      ([, cells]) => cells.split("|").map((cell) => cell.trim()),
    );
    expect(counts.length).toBeGreaterThan(2);
    for (const cell of counts.flat())
      expect(cell).toMatch(/^(fewer than 11|[\d,]*[05]|[\d,]+ to [\d,]+)$/);
  });
});
