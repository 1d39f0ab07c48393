import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { crossClassify } from "../../src/accuracy/index.js";
import { eyePairs, linkCohort, readFindings, readReadings } from "../../src/cohort/index.js";
import { quantityColumns } from "../../src/cohort/link/eyeQuantity.js";
import { differenceAgainstMeanFigure } from "../../src/figures/index.js";
import { defineProtocol, isLimit } from "../../src/protocol/index.js";
import { sphericalEquivalent } from "../../src/refraction/index.js";
import { limitWords, meets, onGrid } from "../../src/rows/index.js";
import { runStudy, studyReport } from "../../src/study/index.js";
import { analyseAgreement } from "../../src/study/run/analyseAgreement.js";
import { conditionRows } from "../../src/study/run/conditionRows.js";
import { limitReader } from "../../src/study/run/limitReader.js";

// The two walks of DEVELOPERS.md, step by step, on the children data (data/children/README.md).

const json = JSON.parse(readFileSync("data/children/protocol.json", "utf8"));
const protocol = defineProtocol({ ...json, replicates: 0, audience: "journal" });
const columns = JSON.parse(readFileSync("data/children/columns.json", "utf8"));
const cohortOf = async () => {
  const file = "data/children/children.csv";
  return linkCohort({
    readings: await readReadings(file, { columns }),
    findings: await readFindings(file, { columns }),
    instrument: protocol.indexTest.instrument,
    cycloplegia: protocol.indexTest.cycloplegia,
  });
};

it("one reading, from its cell to a mark and to a printed number", async () => {
  // the cell: second child of the file, right eye
  const [head, ...lines] = readFileSync("data/children/children.csv", "utf8").split(/\r?\n/);
  const cells = lines.find((line) => line.startsWith("C002,OD"))!.split(",");
  const cell = (name: string) => Number(cells[head!.split(",").indexOf(name)]);
  const power = (source: string) =>
    sphericalEquivalent({
      sphere: cell(`${source}_sph`),
      cylinder: cell(`${source}_cyl`),
      axis: cell(`${source}_ax`),
    });
  expect([power("screener_pre"), power("cyclo")]).toEqual([-2.75, -1.625]);

  // read and linked: the child's row of the readings
  const cohort = await cohortOf();
  const child = cohort.children.subject.indexOf("C002");
  const row = cohort.children.readingRow.right[child]!;
  expect(quantityColumns(cohort, "M", "computed").test[row]).toBe(-2.75);

  // paired: test and reference of one eye
  const pairs = eyePairs(cohort, { eyes: "right", quantity: "M" });
  const at = Array.from(pairs.subjects).indexOf(child);
  expect([pairs.test[at], pairs.reference[at]]).toEqual([-2.75, -1.625]);

  // compared: the bias is the mean of such differences
  const result = analyseAgreement(cohort, protocol, "M")!;
  const differences = Array.from(pairs.test, (value, eye) => value - pairs.reference[eye]!);
  const mean = differences.reduce((sum, value) => sum + value, 0) / pairs.n;
  expect(result.limits.n).toBe(pairs.n);
  expect(result.limits.bias.value).toBeCloseTo(mean, 12);

  // shown: a pair of numbers on sixteenths, without a name
  const mark = { x: -2.1875, y: -1.125 };
  const { shown } = result;
  expect(shown.kind).toBe("rounded-pairs");
  expect(shown.kind === "rounded-pairs" && shown.pairs).toContainEqual(mark);

  // drawn: the same two numbers are in the figure
  const figure = differenceAgainstMeanFigure(result.limits, shown);
  expect(JSON.stringify(figure.spec)).toContain(JSON.stringify(mark));

  // printed: the bias in the report's table of agreement
  const study = await runStudy(protocol, { folder: "data/children" });
  expect(study.agreement[0]!.limits.bias.value).toBe(result.limits.bias.value);
  const tables = studyReport(study).sections.flatMap(({ blocks }) =>
    blocks.filter((block) => block.kind === "table"),
  );
  const numbers = JSON.stringify(tables);
  expect(numbers).toContain(String(result.limits.bias.value));
}, 120_000);

it("one limit, from the protocol to the counts", async () => {
  const condition = protocol.conditions[0]!;
  const { referWhen } = condition;
  if (!isLimit(referWhen)) throw new Error("a limit on one variable");
  const written = json.conditions[0].referWhen;
  expect(referWhen).toMatchObject(written);

  // one eye against the limit: on the grid of thousandths, by one comparison
  const cohort = await cohortOf();
  const reader = limitReader(cohort, protocol, referWhen);
  const { test } = quantityColumns(cohort, referWhen.quantity, "computed");
  for (const name of ["C001", "C002"]) {
    const child = cohort.children.subject.indexOf(name);
    const value = onGrid(test[cohort.children.readingRow.right[child]!]!);
    expect(reader.test(child, "right")).toEqual({ test: meets(value, referWhen), value });
  }

  // all eyes: rows, then counts
  const rows = conditionRows(cohort, protocol, condition);
  const known = Array.from(rows.test.keys()).filter((row) => rows.reference[row] !== null);
  const table = crossClassify(
    {
      test: known.map((row) => rows.test[row]!),
      reference: known.map((row) => rows.reference[row]!),
    },
    { undecidable: protocol.undecidable },
  );

  // the study has the same, and its report prints the limit as it was written
  const study = await runStudy(protocol, { folder: "data/children" });
  expect(study.conditions[0]!.accuracy.table).toEqual(table);
  const words = limitWords(written).split(" ").slice(1).join(" ");
  expect(JSON.stringify(studyReport(study))).toContain(words);
}, 120_000);
