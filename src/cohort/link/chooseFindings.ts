import { InputError } from "../../results/index.js";
import type { Findings, Readings } from "../types.js";
import type { LinkOptions } from "./linkOptions.js";
import { type RefusedFinding, refusals } from "./refusedFinding.js";
import { rowBefore } from "./rowBefore.js";

/**
 * Row of the finding that counts for each child and eye, -1 where there is none; and why the
 * findings of an eye without such a row do not count (1 + the place in `refusals`, the furthest of
 * several; 0 where there are none).
 */
export function chooseFindings(
  n: number,
  findings: Findings,
  childOf: Int32Array,
  readings: Readings,
  reading: { readonly right: Int32Array; readonly left: Int32Array },
  {
    exam = "first",
    daysBetween,
    referenceCycloplegia,
  }: Pick<LinkOptions, "exam" | "daysBetween" | "referenceCycloplegia">,
) {
  const needsDays = daysBetween !== undefined || exam === "nearest";
  if (needsDays && (findings.day === null || readings.day === null)) {
    throw new InputError(
      "linkCohort requires days in both files for a window of days or the nearest exam, got none",
    );
  }
  const row = { right: new Int32Array(n).fill(-1), left: new Int32Array(n).fill(-1) };
  const refused = { right: new Uint8Array(n), left: new Uint8Array(n) };
  const accepted =
    referenceCycloplegia === undefined
      ? null
      : findings.cycloplegia.labels.map((state) => referenceCycloplegia.includes(state));
  if (accepted !== null && referenceCycloplegia?.length === 0) {
    throw new InputError("linkCohort requires a state in referenceCycloplegia, got none");
  }
  const notAttempted = findings.status.labels.indexOf("not-attempted");
  for (let index = 0; index < findings.n; index++) {
    // an exam that was not attempted is no exam
    if (findings.status.codes[index] === notAttempted) continue;
    const child = childOf[findings.subject.codes[index]];
    const side = findings.eye.codes[index] === 0 ? "right" : "left";
    const days = interval(index, child, side);
    if (daysBetween !== undefined && readingOf(child, side) >= 0) {
      // a missing day cannot be shown to lie within the window
      if (!(days >= daysBetween[0] && days <= daysBetween[1])) {
        const before = days < 0 && days < daysBetween[0];
        refuse(side, child, before ? "before-screening" : "outside-window");
        continue;
      }
    }
    if (accepted !== null && !accepted[findings.cycloplegia.codes[index]]) {
      refuse(side, child, "other-cycloplegia");
      continue;
    }
    const current = row[side][child];
    if (current < 0 || wins(index, current, child, side)) row[side][child] = index;
  }
  for (const side of ["right", "left"] as const) {
    for (let child = 0; child < n; child++) if (row[side][child] >= 0) refused[side][child] = 0;
  }
  return { row, refused };

  function refuse(side: "right" | "left", child: number, why: RefusedFinding): void {
    refused[side][child] = Math.max(refused[side][child], refusals.indexOf(why) + 1);
  }

  /** The reading that days are counted from; of an eye without one, that of the other eye. */
  function readingOf(child: number, side: "right" | "left"): number {
    const own = reading[side][child];
    return own >= 0 ? own : reading[side === "right" ? "left" : "right"][child];
  }

  function interval(index: number, child: number, side: "right" | "left"): number {
    const readingRow = readingOf(child, side);
    if (readingRow < 0 || findings.day === null || readings.day === null) return Number.NaN;
    return findings.day[index] - readings.day[readingRow];
  }

  function wins(index: number, other: number, child: number, side: "right" | "left"): boolean {
    if (exam === "nearest") {
      const mine = Math.abs(interval(index, child, side));
      const its = Math.abs(interval(other, child, side));
      if (Number.isNaN(mine) !== Number.isNaN(its)) return Number.isNaN(its);
      if (mine !== its && !Number.isNaN(mine)) return mine < its;
    }
    return rowBefore(index, other, [findings.day], findings.line, exam === "last");
  }
}
