import { measurementStatuses } from "../../cohort/index.js";

const columns = {
  kind: "columns",
  version: 1,
  age: "months",
  eyes: { right: ["right"], left: ["left"] },
  columns: { subject: "child", eye: "eye", age: "age_months" },
};
const measurement = {
  cylinder: "minus",
  cycloplegia: "none",
  vertexMm: 12,
  status: { codes: Object.fromEntries(measurementStatuses.map((status) => [status, status])) },
  columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis", status: "status" },
};

export const columnsReadings = {
  ...columns,
  readings: [{ instrument: "handheld", ...measurement }],
};

export const columnsFindings = {
  ...columns,
  findings: [{ ...measurement, cycloplegia: "full", method: "retinoscopy" }],
};

/** A protocol for the invented data, to be edited. */
export const firstProtocol = {
  kind: "protocol",
  version: 1,
  title: "Invented readings against invented findings, right eyes",
  question: "How far can the dry reading be trusted, and how often is a referral at +1.25 D right?",
  statement: "Invented data: says nothing about any instrument, programme or child.",
  audience: "public",
  sources: {
    readings: { file: "data/invented-readings.csv", columns: "columns-readings.json" },
    findings: { file: "data/invented-findings.csv", columns: "columns-findings.json" },
  },
  indexTest: {
    instrument: "handheld",
    cycloplegia: "none",
    description: "an invented handheld instrument, before cycloplegia",
  },
  referenceStandard: {
    equivalent: "computed",
    description: "invented cycloplegic retinoscopy, every child examined",
  },
  unit: "eye",
  eye: "right",
  conditions: [
    {
      id: "hyperopia-2",
      title: "Hyperopia of 2.00 D or more",
      definition: "own",
      role: "confirmatory",
      target: { quantity: "M", relation: ">=", limit: 2 },
      referWhen: { quantity: "M", relation: ">=", limit: 1.25 },
      caution: "An own definition, not a published category.",
    },
  ],
  undecidable: "exclude",
  verification: "complete",
  sampling: "cohort",
  acceptableDifference: 0.5,
  level: 0.95,
  seed: 20261125,
  replicates: 500,
};
