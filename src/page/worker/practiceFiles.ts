import type { Coded, MeasurementColumns } from "../../cohort/index.js";
import { simulateCohort } from "../../simulation/index.js";

/**
 * Two exports of invented children to practise on, as two systems might write them: the clinic's one has lost
 * the zeros in front of the numbers, and writes dates in another way. The same on every machine.
 */
export async function practiceFiles(): Promise<readonly (readonly [name: string, text: string])[]> {
  const { readings, findings } = await simulateCohort({
    children: 400,
    seed: 20261130,
    scenario: "complete",
  });
  return [
    ["practice-screening.csv", screening(readings)],
    ["practice-clinic.csv", clinic(findings)],
  ];
}

function screening(readings: MeasurementColumns): string {
  const rows = eachRow(readings, (row, child) => [
    String(child).padStart(5, "0"),
    isoDay(child % 60),
    word(readings.eye, row) === "right" ? "R" : "L",
    power(readings.sphere[row]),
    power(readings.cylinder[row]),
    whole(readings.axis[row]),
    whole(readings.ageMonths?.[row]),
    word(readings.status, row) === "measured" ? "ok" : "unreadable",
    child % 90 === 7 ? "came late" : "",
  ]);
  return csv("Pupil number,Screened on,Eye,Sphere,Cylinder,Axis,Age in months,Status,Remark", rows);
}

function clinic(findings: MeasurementColumns): string {
  const rows = eachRow(findings, (row, child) => [
    String(child),
    isoDay((child % 60) + 20 + (child % 35))
      .split("-")
      .reverse()
      .join("."),
    word(findings.eye, row) === "right" ? "OD" : "OS",
    power(findings.sphere[row]),
    power(findings.cylinder[row]),
    whole(findings.axis[row]),
    "full",
  ]);
  return csv("Pupil number,Exam date,Eye,Sphere,Cylinder,Axis,Cycloplegia", rows);
}

function eachRow(
  columns: MeasurementColumns,
  cells: (row: number, child: number) => readonly string[],
): string[] {
  const numbers = new Map<string, number>();
  return Array.from({ length: columns.n }, (_, row) => {
    const subject = word(columns.subject, row);
    const child = Number(/\d+/.exec(subject)?.[0] ?? numbers.size + 1);
    numbers.set(subject, child);
    return cells(row, child).join(",");
  });
}

const csv = (header: string, rows: readonly string[]) => `${[header, ...rows].join("\n")}\n`;

const power = (value: number) =>
  Number.isNaN(value) ? "" : `${value > 0 ? "+" : ""}${value.toFixed(2)}`;

const whole = (value: number | undefined) =>
  value === undefined || Number.isNaN(value) ? "" : value.toFixed(0);

const word = ({ codes, labels }: Coded, row: number) => labels[codes[row]] ?? "";

/** A day of the spring of 2026. */
function isoDay(day: number): string {
  return new Date(Date.UTC(2026, 2, 2 + day)).toISOString().slice(0, 10);
}
