import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";

const measurement = {
  cylinder: "minus",
  columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" },
};
const mapping = {
  kind: "columns",
  version: 1,
  columns: { subject: "subject", eye: "eye", day: "day" },
  readings: [
    {
      instrument: "own",
      cycloplegia: "none",
      correction: "none",
      whenEmpty: "unreadable",
      ...measurement,
    },
  ],
  findings: [{ cycloplegia: "full", ...measurement }],
};
const limit = (value: number) => ({ quantity: "M", relation: ">=", limit: value });

/** A study of an invented programme of some children, small enough to be run again and again. */
export async function writeInventedStudy(folder: string, children = 60): Promise<void> {
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "readings.csv"), inventedRows(children, 0));
  await writeFile(join(folder, "findings.csv"), inventedRows(children, 1));
  const protocol = {
    kind: "protocol",
    version: 1,
    title: "Invented",
    question: "Is a report whole?",
    audience: "journal",
    sources: {
      readings: { file: "readings.csv", columns: mapping },
      findings: { file: "findings.csv", columns: mapping },
    },
    indexTest: { instrument: "own", description: "an invented instrument" },
    referenceStandard: { description: "an invented exam" },
    unit: "eye",
    eye: "right",
    verification: "complete",
    sampling: "cohort",
    undecidable: "refer",
    conditions: [
      {
        id: "plus",
        title: "Plus",
        definition: "own",
        role: "confirmatory",
        target: limit(2),
        referWhen: limit(1.5),
      },
    ],
    acceptableDifference: 0.5,
    seed: 1,
    replicates: 20,
  };
  await writeFile(join(folder, "protocol.json"), JSON.stringify(protocol));
}

/** Rows of a file; another `turn` gives other values of the same children. */
export function inventedRows(children: number, turn: number): string {
  const rows = ["subject,eye,day,sphere,cylinder,axis"];
  for (let child = 0; child < children; child++) {
    for (const eye of ["right", "left"]) {
      const sphere = ((child * 7) % 23) / 4 - 1 + turn * (((child * 5) % 7) / 4 - 0.5);
      rows.push(`c${child},${eye},${turn * 9},${sphere},${-(child % 3) / 4},${(child * 11) % 180}`);
    }
  }
  return rows.join("\n");
}
