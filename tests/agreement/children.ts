import { readFileSync } from "node:fs";

/** Rows of data/children/children.csv as numbers or NaN, read by hand: the loader is tested elsewhere. */
export function childrenRows(): Record<string, string>[] {
  const url = new URL("../../data/children/children.csv", import.meta.url);
  const [header, ...lines] = readFileSync(url, "utf8").trim().split(/\r?\n/);
  const names = header.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(names.map((name, index) => [name, cells[index] ?? ""]));
  });
}

export interface Pairs {
  test: number[];
  reference: number[];
  subjects: string[];
  eyes: ("right" | "left")[];
}

/** Spherical equivalents from sphere and cylinder where both sources have them; test minus cycloplegic. */
export function equivalents(source: string, eye: "OD" | "OS" | "both"): Pairs {
  const pairs: Pairs = { test: [], reference: [], subjects: [], eyes: [] };
  for (const row of childrenRows()) {
    if (eye !== "both" && row.eye !== eye) continue;
    const test = equivalent(row[`${source}_sph`], row[`${source}_cyl`]);
    const reference = equivalent(row.cyclo_sph, row.cyclo_cyl);
    if (Number.isNaN(test) || Number.isNaN(reference)) continue;
    pairs.test.push(test);
    pairs.reference.push(reference);
    pairs.subjects.push(row.subject_id);
    pairs.eyes.push(row.eye === "OD" ? "right" : "left");
  }
  return pairs;
}

/** Power vectors of both sources, by the definition of Thibos, Wheeler and Horner 1997. */
export function vectors(source: string) {
  const out = {
    test: [] as { M: number; J0: number; J45: number }[],
    reference: [] as { M: number; J0: number; J45: number }[],
    subjects: [] as string[],
    eyes: [] as ("right" | "left")[],
  };
  for (const row of childrenRows()) {
    const test = vector(row[`${source}_sph`], row[`${source}_cyl`], row[`${source}_ax`]);
    const reference = vector(row.cyclo_sph, row.cyclo_cyl, row.cyclo_ax);
    if (test === null || reference === null) continue;
    out.test.push(test);
    out.reference.push(reference);
    out.subjects.push(row.subject_id);
    out.eyes.push(row.eye === "OD" ? "right" : "left");
  }
  return out;
}

function vector(sphere: string, cylinder: string, axis: string) {
  if (sphere === "" || cylinder === "") return null;
  const c = Number(cylinder);
  if (c !== 0 && axis === "") return null;
  const twice = (2 * Number(axis || 0) * Math.PI) / 180;
  return {
    M: Number(sphere) + c / 2,
    J0: (-c / 2) * Math.cos(twice),
    J45: (-c / 2) * Math.sin(twice),
  };
}

function equivalent(sphere: string, cylinder: string): number {
  return sphere === "" || cylinder === "" ? Number.NaN : Number(sphere) + Number(cylinder) / 2;
}
