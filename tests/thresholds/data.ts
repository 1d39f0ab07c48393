import { readFileSync } from "node:fs";
import type { Estimate, Undefined } from "../../src/results/index.js";

/** Cells of a plain comma-separated file of the repository, by column name. */
export function readColumns(path: string): (name: string) => string[] {
  const lines = readFileSync(new URL(`../../${path}`, import.meta.url), "utf8")
    .trim()
    .split(/\r?\n/);
  const names = lines[0].split(",");
  const cells = lines.slice(1).map((line) => line.split(","));
  return (name) => {
    const at = names.indexOf(name);
    if (at < 0) throw new Error(`no column ${name} in ${path}`);
    return cells.map((row) => row[at]);
  };
}

export function known<T extends Estimate>(estimate: T | Undefined): T {
  if (estimate.kind === "undefined") throw new Error(estimate.reason);
  return estimate;
}

/** Eyes of the children data with a computed equivalent on both sides. */
export function childrenEyes(instrument: "screener" | "autoref") {
  const column = readColumns("data/children/children.csv");
  const number = (name: string) =>
    column(name).map((cell) => (cell === "" ? Number.NaN : Number(cell)));
  const equivalent = (prefix: string) => {
    const cylinder = number(`${prefix}_cyl`);
    return number(`${prefix}_sph`).map((sphere, row) => sphere + cylinder[row] / 2);
  };
  const finding = equivalent("cyclo");
  const reading = equivalent(`${instrument}_pre`);
  const child = column("subject_id");
  const eye = column("eye");
  const age = number("age_years");
  const kept = finding
    .map((_, row) => row)
    .filter((row) => {
      return Number.isFinite(finding[row]) && Number.isFinite(reading[row]);
    });
  return {
    values: kept.map((row) => reading[row]),
    condition: kept.map((row) => finding[row] <= -3),
    subjects: kept.map((row) => child[row]),
    eyes: kept.map((row) => eye[row]),
    ages: kept.map((row) => age[row]),
  };
}

/** Area by counting pairs, by definition. */
export function areaByPairs(
  values: readonly number[],
  condition: readonly (boolean | number)[],
): number {
  let wins = 0;
  let pairs = 0;
  values.forEach((a, i) => {
    values.forEach((b, j) => {
      if (!condition[i] || condition[j]) return;
      pairs++;
      wins += a > b ? 1 : a === b ? 0.5 : 0;
    });
  });
  return wins / pairs;
}
