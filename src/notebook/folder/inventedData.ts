import type { Coded, MeasurementColumns } from "../../cohort/index.js";
import { type SimulationOptions, simulateCohort } from "../../simulation/index.js";

/** Readings and findings of invented children as CSV, the same on every machine. */
export async function inventedData(
  of: Pick<SimulationOptions, "children" | "seed" | "scenario"> = {
    children: 400,
    seed: 20261125,
    scenario: "complete",
  },
): Promise<{ readings: string; findings: string }> {
  const { readings, findings } = await simulateCohort(of);
  return { readings: csv(readings), findings: csv(findings) };
}

function csv(columns: MeasurementColumns): string {
  const { subject, eye, sphere, cylinder, axis, ageMonths, status } = columns;
  const number = (value: number | undefined, decimals: number) =>
    value === undefined || Number.isNaN(value) ? "" : value.toFixed(decimals);
  const rows = Array.from({ length: columns.n }, (_, row) =>
    [
      label(subject, row),
      label(eye, row),
      number(sphere[row], 2),
      number(cylinder[row], 2),
      number(axis[row], 0),
      number(ageMonths?.[row], 0),
      label(status, row),
    ].join(","),
  );
  return `${["child,eye,sphere,cylinder,axis,age_months,status", ...rows].join("\n")}\n`;
}

function label({ codes, labels }: Coded, row: number): string {
  return labels[codes[row]!]!;
}
