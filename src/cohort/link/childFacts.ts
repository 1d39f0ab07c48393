import { labelList } from "../read/labelList.js";
import type { ChildColumns, Findings, Readings } from "../types.js";

/** The age at the first reading that has one, else at the first finding. */
export function childAges(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
) {
  const months = new Float64Array(n).fill(Number.NaN);
  const years = new Float64Array(n).fill(Number.NaN);
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    for (let row = 0; row < data.n; row++) {
      const child = childOf[data.subject.codes[row]];
      // an age of the other unit is of a later row
      if (!Number.isNaN(months[child]) || !Number.isNaN(years[child])) continue;
      months[child] = data.ageMonths?.[row] ?? Number.NaN;
      if (Number.isNaN(months[child])) years[child] = data.ageYears?.[row] ?? Number.NaN;
    }
  }
  return { months, years };
}

/** The site of the first reading that has one, else of the first finding. */
export function childSites(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  childOfFinding: Int32Array,
): ChildColumns["site"] {
  if (readings.site === null && findings.site === null) return null;
  const sites = labelList();
  const codes = new Int32Array(n).fill(-1);
  for (const [data, childOf] of [
    [readings, childOfReading],
    [findings, childOfFinding],
  ] as const) {
    if (data.site === null) continue;
    const empty = data.site.labels.indexOf("");
    const codeOf = new Int32Array(data.site.labels.length).fill(-1);
    for (let row = 0; row < data.n; row++) {
      const child = childOf[data.subject.codes[row]];
      const label = data.site.codes[row];
      if (codes[child] >= 0 || label === empty) continue;
      // only sites of children are in the list
      if (codeOf[label] < 0) codeOf[label] = sites.codeOf(data.site.labels[label]);
      codes[child] = codeOf[label];
    }
  }
  const none = codes.includes(-1) ? sites.codeOf("") : -1;
  return { codes: codes.map((code) => (code < 0 ? none : code)), labels: sites.labels };
}
