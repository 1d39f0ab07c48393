import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import { type Cohort, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { printedReproductionTable, readPrintedRows } from "../../src/printed/index.js";
import { reproducePrinted } from "../../src/printed/reproducePrinted.js";

const file = "data/children/children.csv";
const cohort: Record<string, Cohort> = {};

beforeAll(async () => {
  const columns = JSON.parse(await readFile("data/children/columns.json", "utf8"));
  const readings = await readReadings(file, { columns });
  const findings = await readFindings(file, { columns });
  for (const instrument of ["handheld", "table"]) {
    cohort[instrument] = linkCohort({ readings, findings, instrument, cycloplegia: "none" });
  }
});

describe("the source's own panels: cycloplegic minus device, equivalent as stated, all eyes, 1.96 SD", () => {
  // data/children/README.md names the source; numbers as its figure prints them
  it.each([
    ["table", "1118", "0.38", "-0.51 to 1.26"],
    ["handheld", "1072", "0.26", "-2.29 to 2.80"],
  ])("%s instrument: that choice is found, and no other gives as much", (name, n, bias, limits) => {
    const printed = readPrintedRows(`label,n,bias,limits\npanel,${n},${bias},${limits}`);
    const found = reproducePrinted(cohort[name], printed, {
      try: ["computed", "stated"],
      direction: "either",
    });
    expect(found.choices[0]).toMatchObject({
      choice: {
        eyes: "both",
        equivalent: "stated",
        direction: "reference-minus-test",
        multiplier: 1.96,
      },
      n: Number(n),
      reproduced: 3,
      printed: 3,
      equallyGood: [],
      tried: 24,
    });
    expect(found.notReproduced).toBe(0);
    expect(found.rows.map(({ item, verdict }) => [item, verdict])).toEqual([
      ["n", "reproduced"],
      ["bias", "reproduced"],
      ["limits", "reproduced"],
    ]);
  });

  it("names what gives a number that the row's choice does not, and says when nothing does", () => {
    const printed = readPrintedRows(
      "label,n,bias,sd,limits\nmisprint,1117,0.38,9.99,-0.51 to 1.26",
    );
    const found = reproducePrinted(cohort.table, printed);
    const [n, bias, sd] = found.rows;
    // the limits are those of the stated equivalent, n that of the computed one
    expect(found.choices[0]).toMatchObject({ reproduced: 2, printed: 4 });
    expect(found.choices[0]?.choice).toMatchObject({ equivalent: "stated" });
    expect(n?.verdict).toBe("not reproduced");
    expect(n?.cause).toContain("given by: all eyes, M of the exam from sphere and cylinder");
    expect(n?.difference).toBe(1);
    expect(bias?.verdict).toBe("reproduced");
    expect(sd?.cause).toBe("none of 24 choices gives it");
  });
});

describe("our own numbers, printed", () => {
  it("right eyes, M computed, test minus reference, by R 4.2 (as in the first light test)", () => {
    const printed = readPrintedRows(
      "label,n,bias,sd,limits\nown,538,-0.2066,1.4699,-3.0874 to 2.6743",
    );
    const { choices, notReproduced } = reproducePrinted(cohort.handheld, printed, {
      multipliers: [1.959964],
    });
    expect(notReproduced).toBe(0);
    expect(choices[0]?.words).toBe(
      "right eyes, M of the exam from sphere and cylinder, test minus reference, limits at 1.959964 SD",
    );
  });

  it("the worse eye of each child at -3.00 D: 230/52/5/240, by pandas (as in the children test)", () => {
    const printed = readPrintedRows(
      "label,n,withCondition,sensitivity,specificity\nown,527,235,97.9 (95.1-99.3),82.2",
    );
    const limit = { relation: "<=", limit: -3 } as const;
    const { choices, rows } = reproducePrinted(cohort.handheld, printed, {
      referWhen: limit,
      target: limit,
    });
    expect(choices[0]).toMatchObject({
      choice: { eyes: "worse", equivalent: "computed", atLimit: "meets" },
      reproduced: 4,
      printed: 4,
      aside: ["sensitivity, interval"],
      tried: 16,
    });
    expect(rows.map(({ verdict }) => verdict)).toEqual(new Array(4).fill("reproduced"));
    expect(rows[2]?.recomputed).toBe("97.87");
  });

  it("a value at the limit decides: strict limits give other counts", async () => {
    const eyes = [-2.75, -3, -3.25].map((sphere, at) => ({
      subject: `s${at}`,
      eye: "OD",
      sphere,
      cylinder: 0,
      axis: 0,
    }));
    const tiny = linkCohort({
      readings: await readReadings(eyes),
      findings: await readFindings(eyes),
    });
    const limit = { relation: "<=", limit: -3 } as const;
    const choose = (withCondition: number) =>
      reproducePrinted(
        tiny,
        readPrintedRows(
          `label,n,withCondition,truePositive\nA,3,${withCondition},${withCondition}`,
        ),
        { referWhen: limit, target: limit, eyes: ["right"] },
      ).choices[0]?.choice.atLimit;
    expect(choose(2)).toBe("meets");
    expect(choose(1)).toBe("does not meet");
  });
});

describe("what print does not tell apart, and what cannot be compared", () => {
  it("lists choices that reproduce as many numbers", () => {
    const printed = readPrintedRows("label,bias\nA,0.38");
    const [choice] = reproducePrinted(cohort.table, printed, { eyes: ["both"] }).choices;
    expect(choice?.equallyGood.length).toBe(0);
    const [either] = reproducePrinted(cohort.table, readPrintedRows("label,bias\nA,0.4"), {
      eyes: ["both"],
    }).choices;
    expect(either?.equallyGood).toEqual([expect.stringContaining("all eyes, M of the exam")]);
    const table = printedReproductionTable(
      reproducePrinted(cohort.table, readPrintedRows("label,bias\nA,0.4"), { eyes: ["both"] }),
    );
    expect(table.notes[1]).toContain("A: as many numbers are reproduced by all eyes");
  });

  it("names the row of an error", () => {
    const rows = (text: string) => () => reproducePrinted(cohort.table, readPrintedRows(text));
    expect(rows("label,screened,referred\nA,10,2")).toThrow(
      'reproducePrinted, row "A": requires bias, mean, sd or limits, or a measure of a 2x2 table, got screened, referred',
    );
    expect(rows("label,sensitivity\nA,90.0")).toThrow('row "A": requires referWhen and target');
    expect(rows("label,bias\nA,nought")).toThrow('row "A": ');
    const stateless = {
      ...cohort.table,
      findings: { ...cohort.table.findings, statedEquivalent: null },
    };
    expect(() =>
      reproducePrinted(stateless, readPrintedRows("label,bias\nA,0.4"), { try: ["stated"] }),
    ).toThrow('row "A": a stated equivalent requires');
    expect(() =>
      reproducePrinted(cohort.table, readPrintedRows("label,bias\nA,0.4"), { try: [] }),
    ).toThrow("requires try to hold something to try");
  });
});
