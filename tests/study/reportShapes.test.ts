// The report says what it shows and nothing else: methods and checklists over generated protocols.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { flowFigure } from "../../src/figures/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { publishedRules } from "../../src/rules/index.js";
import { type Report, runStudy, studyReport } from "../../src/study/index.js";
import { resultsOfReading } from "../../src/study/run/resultsOfReading.js";
import { inFull } from "../builders/inFull.js";

const columns = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye", day: "day", site: "site", age: "age" },
  age: "years",
  readings: [
    {
      instrument: "own",
      cycloplegia: "none",
      correction: "none",
      cylinder: "minus",
      whenEmpty: "unreadable",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
  findings: [
    {
      cycloplegia: "full",
      cylinder: "minus",
      columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
    },
  ],
};

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "meridional-shapes-"));
  const readings = ["subject,eye,day,site,age,sphere,cylinder,axis"];
  const findings = ["subject,eye,day,site,age,sphere,cylinder,axis"];
  for (let child = 0; child < 120; child++) {
    for (const eye of ["right", "left"]) {
      const dry = ((child * 7) % 23) / 4 - 2;
      const wet = dry + ((child * 5) % 7) / 4 - 0.5;
      const who = `c${child},${eye}`;
      const where = `s${child % 4},${4 + (child % 5)}`;
      const own = child % 19 === 0 ? ",," : `${dry},${-(child % 3) / 4},${child}`;
      readings.push(`${who},0,${where},${own}`);
      // of those who pass every fourth child is examined
      if (dry >= 1.5 || child % 4 === 0) {
        findings.push(`${who},${10 + (child % 9)},${where},${wet},${-(child % 2) / 4},${child}`);
      }
    }
  }
  await writeFile(join(folder, "readings.csv"), readings.join("\n"));
  await writeFile(join(folder, "findings.csv"), findings.join("\n"));
  const decided = readings.filter((line) => !line.endsWith(",,"));
  await writeFile(join(folder, "decided.csv"), decided.join("\n"));
});
afterAll(() => rm(folder, { recursive: true }));

const limit = (value: number) => ({ quantity: "M", relation: ">=", limit: value });
const shapes = fc.record({
  audience: fc.constantFrom("journal", "public"),
  eye: fc.constantFrom("right", "both", "random", "worse"),
  verification: fc.constantFrom("complete", "partial"),
  undecidable: fc.constantFrom("refer", "pass", "exclude"),
  sampling: fc.constantFrom("cohort", "enriched"),
  clusters: fc.constantFrom("child", "site"),
  subgroups: fc.constantFrom([], [{ by: "site" }], [{ by: "age", edgesYears: [6] }]),
  criteria: fc.constantFrom(undefined, { sensitivityAtLeast: 0.8, withinAcceptableAtLeast: 0.5 }),
  choose: fc.boolean(),
  prevalences: fc.constantFrom(undefined, [0.05], [0.02, 0.1]),
  errorSd: fc.constantFrom(undefined, 0.25),
  linkage: fc.constantFrom({}, { daysBetween: [0, 365], exam: "nearest" }),
  rationale: fc.constantFrom(undefined, "Invented: nothing was known."),
  setting: fc.constantFrom(undefined, "Invented: four schools in one autumn."),
  masking: fc.constantFrom(undefined, "Invented: nobody knew the other's result."),
});

type Shape = typeof shapes extends fc.Arbitrary<infer One> ? One : never;
const reportOf = async (shape: Shape, file = "readings.csv", refer = 1.5) => {
  const { choose, errorSd, eye, prevalences, ...choices } = shape;
  const protocol = defineProtocol({
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "What is shown?",
    sources: {
      readings: { file, columns },
      findings: { file: "findings.csv", columns },
    },
    indexTest: { instrument: "own", description: "an invented instrument" },
    referenceStandard: { description: "an invented exam", ...(errorSd ? { errorSd } : {}) },
    unit: eye === "worse" ? "child" : "eye",
    eye,
    conditions: [
      {
        id: "plus",
        title: "Plus",
        definition: "own",
        role: "confirmatory",
        target: limit(2),
        referWhen: limit(refer),
        ...(choose ? { choose: { criterion: "youden" } } : {}),
        ...(prevalences === undefined ? {} : { prevalences }),
      },
    ],
    acceptableDifference: 0.5,
    seed: 1,
    replicates: 20,
    ...choices,
  });
  const result = await runStudy(protocol, { folder });
  return { protocol, result, report: studyReport(result) };
};

/** Between them the tables of a journal's report. */
const everything: Shape = {
  audience: "journal",
  eye: "right",
  verification: "complete",
  undecidable: "refer",
  sampling: "cohort",
  clusters: "child",
  subgroups: [{ by: "site" }],
  criteria: { sensitivityAtLeast: 0.8, withinAcceptableAtLeast: 0.5 },
  choose: true,
  prevalences: [0.02, 0.1],
  errorSd: 0.25,
  linkage: { daysBetween: [0, 365], exam: "nearest" },
  rationale: "Invented: nothing was known.",
  setting: undefined,
  masking: "Invented: nobody knew the other's result.",
};
const partly: Shape = { ...everything, verification: "partial", errorSd: undefined };

/** Every table that a report may have, with words that the methods then hold. */
const analyses: readonly (readonly [start: string, words: RegExp])[] = [
  ["Criteria stated in advance", /Criteria stated in advance are met where/],
  ["Of 1000, what the referral does", /What the referral does to 1000/],
  ["Participants", /Eligibility: /],
  ["Baseline", /Index test: /],
  ["Agreement, test minus reference", /Limits of agreement/],
  ["Limits of M that change", /Limits of M that change with the refraction/],
  ["How often the referral is right, by how common", /by Bayes' rule/],
  ["Differences within", /an acceptable difference stated in advance/],
  ["Agreement of M by", /^Subgroups: /m],
  ["By ", /^Subgroups: /m],
  ["Counts: ", /Target conditions and referral limits/],
  ["Accuracy", /Sensitivity, specificity and other proportions/],
  ["If the exam errs", /simulation and extrapolation/],
  ["Limit chosen on these data", /A limit was also chosen on these data/],
  ["Without a decision by the reading", /beside it in the other ways/],
  ["Reading and exam: ", /./],
  ["One rate, counted in each way", /beside it in the other ways/],
  ["The programme in figures", /The programme in figures counts/],
  ["Other limits: ", /in coarse stops/],
  ["Cells that needed a decision", /./],
  ["Reporting items", /./],
];

function blocksOf({ sections }: Report) {
  const blocks = sections.flatMap((section) => section.blocks);
  return {
    tables: blocks.filter((block) => block.kind === "table"),
    figures: blocks.filter((block) => block.kind === "figure"),
  };
}

it("every analysis has its sentence, and no sentence is without its analysis", {
  timeout: 120_000,
}, async () => {
  const seen = new Set<string>();
  await fc.assert(
    fc.asyncProperty(shapes, async (shape) => {
      const { report } = await reportOf(shape);
      const { tables, figures } = blocksOf(report);
      const methods = report.sections
        .find(({ id }) => id === "methods")!
        .blocks.map((block) => (block.kind === "paragraph" ? block.text : ""))
        .join("\n");
      for (const { title } of tables) {
        const analysis = analyses.find(([start]) => title.startsWith(start));
        expect(analysis, `a table that no sentence goes with: ${title}`).toBeDefined();
        expect(methods).toMatch(analysis![1]);
        seen.add(analysis![0]);
      }
      for (const [, words] of analyses) {
        if (!words.test(methods)) continue;
        const starts = analyses.filter(([, own]) => own.source === words.source);
        const isShown = starts.some(([start]) =>
          tables.some(({ title }) => title.startsWith(start)),
        );
        // selection is said of the public too, where the flow may be withheld, and the baseline is
        if (!/Eligibility|Index test/.test(words.source)) expect(isShown, words.source).toBe(true);
      }
      expect(methods).toMatch(/Software: Meridional \d+\.\d+\.\d+/);
      expect(methods).not.toContain("from memory");

      // the checklists name nothing that is not there
      const titles = [...tables, ...figures, ...report.sections].map(({ title }) => title);
      for (const list of tables.filter(({ title }) => title.startsWith("Reporting items"))) {
        for (const { cells } of list.rows) {
          const named = [...String(cells[2]).matchAll(/(?:table|figure|section) "([^"]+)"/g)];
          for (const [, title] of named) expect(titles).toContain(title);
          expect(
            cells.slice(2).some((cell) => cell !== "–"),
            `item ${cells[0]}`,
          ).toBe(true);
        }
      }
      const met = (item: string) => {
        const list = tables.find(({ title }) => title.includes("STARD"))!;
        return String(list.rows.find(({ cells }) => cells[0] === item)!.cells[2]);
      };
      const notes = tables
        .filter(({ title }) => title.startsWith("By "))
        .flatMap((one) => one.notes);
      const tested = notes.some((note) => /p [=<] ?[\d<]/.test(note));
      expect(/ with a test/.test(met("17"))).toBe(tested);
      expect(met("19").startsWith("figure")).toBe(
        figures.some(({ name }) => name === "participant-flow"),
      );
      const written = [
        ["rationale", ["3"]],
        ["setting", ["8"]],
        ["masking", ["13a", "13b"]],
      ] as const;
      for (const [key, items] of written) {
        const text = shape[key];
        if (text !== undefined) expect(methods).toContain(text);
        for (const item of items) expect(met(item) !== "–", item).toBe(text !== undefined);
      }
      expect(met("20") !== "–").toBe(tables.some(({ title }) => title === "Baseline"));
      expect(met("21a")).toBe("–");
    }),
    {
      numRuns: inFull(3, 8),
      seed: 27,
      includeErrorInReport: true,
      examples: [[everything], [partly]],
    },
  );
  // the generated shapes reach every table but those of the programme's own choices
  const rare = ["Other limits: ", "Limits of M that change"];
  for (const [start] of analyses) if (!rare.includes(start)) expect([...seen]).toContain(start);
});

it("the first page says each thing exactly where it is so", { timeout: 240_000 }, async () => {
  const files = fc.constantFrom("readings.csv", "decided.csv");
  const seen = new Map<string, Set<boolean>>();
  const says = (what: string, isSaid: boolean, isSo: boolean) => {
    expect(isSaid, what).toBe(isSo);
    seen.set(what, (seen.get(what) ?? new Set()).add(isSaid));
  };
  await fc.assert(
    fc.asyncProperty(shapes, files, async (shape, file) => {
      const isPartial = shape.verification === "partial";
      // of those whom the strict limit passes many are examined, so that missed ones are known
      const given = {
        ...shape,
        choose: false,
        ...(isPartial && { programme: { passesDrawn: 0.25 } }),
      };
      const { result, report, protocol } = await reportOf(given, file, isPartial ? 3 : 1.5);
      const [answer] = report.sections;
      const words = answer.blocks.flatMap((block) =>
        block.kind === "paragraph" ? [block.text] : [],
      );
      const text = words.join("\n");
      const isPublic = shape.audience === "public";
      const undecided = resultsOfReading(result.conditions[0], protocol).find(
        ({ reading }) => reading === "undecided",
      )!;
      const some = undecided.with + undecided.without + undecided.unexamined > 0;
      // what is undecided is told the public by the protocol alone: that there are some would be a small count
      says("undecided", text.includes("The reading decides nothing for"), !isPublic && some);
      says(
        "undecided, public",
        /for whom the reading decides nothing( \([^)]*\))? are left out/.test(text),
        isPublic && !isPartial && shape.undecidable === "exclude",
      );
      says(
        "case-rich",
        words.at(-1)!.includes("cases are over-represented"),
        shape.sampling === "enriched",
      );
      says("rounding", text.includes("Counts are rounded, and small ones hidden"), isPublic);
      says("brackets", /In brackets: 95 % intervals/.test(text), true);
      const { verification } = result.conditions[0];
      const isCorrected = verification?.corrected.sensitivity.kind === "estimate";
      says(
        "examined alone",
        text.includes("Counted among the examined alone"),
        !isPublic && isPartial && isCorrected,
      );
      says(
        "examined alone, public",
        text.includes("Counts of the examined alone give other rates"),
        isPublic && isPartial && !text.includes("not shown"),
      );
      for (const block of answer.blocks) {
        if (block.kind !== "figure" || block.name !== "difference-against-mean-M") continue;
        const isCells = JSON.stringify(block.spec).includes('"density"');
        says("density", block.caption.includes("number per area (D²)"), isPublic && isCells);
      }
    }),
    {
      numRuns: inFull(4, 24),
      seed: 28,
      examples: [
        [{ ...everything, sampling: "enriched" }, "readings.csv"],
        [{ ...partly, undecidable: "pass" }, "decided.csv"],
        [
          { ...everything, audience: "public", sampling: "cohort", undecidable: "exclude" },
          "readings.csv",
        ],
        [{ ...partly, audience: "public", undecidable: "refer" }, "decided.csv"],
      ],
    },
  );
  // each sentence was there, and was not
  for (const [what, both] of seen) if (what !== "brackets") expect(both.size, what).toBe(2);
});

it("the flow ends in results that add up to those screened", async () => {
  for (const undecidable of ["refer", "pass", "exclude"] as const) {
    const { result, report, protocol } = await reportOf({
      ...partly,
      choose: false,
      undecidable,
    });
    // by hand from the rule that made the children
    const counts = { referred: [0, 0, 0], passed: [0, 0, 0], undecided: [0, 0, 0] };
    for (let child = 0; child < 120; child++) {
      const dry = ((child * 7) % 23) / 4 - 2;
      const M = dry - (child % 3) / 8;
      const wet = dry + ((child * 5) % 7) / 4 - 0.5 - (child % 2) / 8;
      const reading = child % 19 === 0 ? "undecided" : M >= 1.5 ? "referred" : "passed";
      const exam = dry >= 1.5 || child % 4 === 0 ? (wet >= 2 ? 0 : 1) : 2;
      counts[reading][exam]++;
    }
    const found = resultsOfReading(result.conditions[0], protocol);
    for (const { reading, with: has, without, unexamined } of found) {
      expect([has, without, unexamined]).toEqual(counts[reading]);
    }
    const results = { title: "Plus", groups: [] };
    expect(() => flowFigure(result.flow, { audience: "public", results })).toThrow(
      'flowFigure requires the audience "journal" with results',
    );
    const flow = blocksOf(report).figures.find(({ name }) => name === "participant-flow")!;
    const [has, without, unexamined] = counts.referred;
    expect(flow.alt).toContain(
      `referred ${has + without + unexamined} eyes (with the condition ${has}, without it ${without}, not examined ${unexamined})`,
    );
    const sum = Object.values(counts)
      .flat()
      .reduce((total, one) => total + one, 0);
    expect(sum).toBe(result.conditions[0].screened);
  }
});

it("answers first: question, verdict, numbers, flow, agreement, accuracy; appendices last", async () => {
  const { report } = await reportOf({ ...partly, choose: false, subgroups: [] });
  const [answer] = report.sections;
  const figures = answer.blocks.flatMap((block) => (block.kind === "figure" ? [block.name] : []));
  expect(figures).toEqual([
    "outcomes-per-thousand-plus",
    "participant-flow",
    "difference-against-mean-M",
    "roc-plus",
  ]);
  expect(answer.blocks.findIndex(({ kind }) => kind === "table")).toBeGreaterThan(
    answer.blocks.findIndex(({ kind }) => kind === "figure"),
  );
  expect(answer.blocks.at(-1)).toMatchObject({ text: expect.stringContaining("It holds for") });
  expect(report.sections.map(({ id }) => id)).toEqual([
    "answer",
    "programme",
    "participants",
    "agreement",
    "accuracy",
    "move-the-limit",
    "limitations",
    "cautions",
    "methods",
    "variants",
    "audit",
    "reporting",
  ]);
  const names = blocksOf(report).figures.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
});

it("no published rule prints where a citation was remembered", () => {
  expect(Object.keys(publishedRules).length).toBeGreaterThan(0);
  expect(JSON.stringify(publishedRules)).not.toContain("from memory");
});
