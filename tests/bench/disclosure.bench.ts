import { bench, describe } from "vitest";
import { keepRanges, whatFollows } from "../../src/disclosure/index.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { studyReport } from "../../src/study/index.js";
import { coarseResult } from "../builders/coarseResult.js";
import { inventedCohort } from "../builders/redTeam.js";

// Goal: at most 50 ms a report for what small counts need: coarse cells, the groups and stops that may stand
// beside them, and the check of everything at once. Read it from the mean of "coarse cells and their check",
// of a study of two conditions, ages and sites. The named baseline writes the whole report as data.

const cohorts = [2, 4, 6, 9].map(inventedCohort);
const results = cohorts.map(({ children, conditions }) => coarseResult(children, conditions));
let at = 0;
const next = () => results[at++ % results.length]!;

const names = Array.from({ length: 60 }, (_, place) => `cell ${place}`);
const known = names.map((name, place) =>
  place % 3 === 0 ? { name, low: 0, high: 10 } : { name, low: 10 * place, high: 10 * place + 4 },
);
const sums = [names.slice(0, 30), names.slice(30)].map((parts, place) => ({
  whole: `table ${place}`,
  parts: parts.map((name) => ({ name })),
}));
const whole = { whole: "rows", parts: [{ name: "table 0" }, { name: "table 1" }] };
const circle = { whole: "rows", parts: names.map((name) => ({ name })) };
const small = names.filter((_, place) => place % 3 === 0);

describe("small counts of a report", () => {
  bench("baseline: the public report as data", () => void studyReport(next()));
  bench("coarse cells and their check", () => void coarseStudy(next()));
  bench("what follows for 60 counts of a tree", () => void whatFollows(known, [...sums, whole]));
  bench(
    "60 counts of a circle at once",
    () => void keepRanges(known, [...sums, whole, circle], small, 11),
  );
});
