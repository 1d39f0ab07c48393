// Prepare, draft, audit and study of a few layouts; all of them, and other cohorts, in roundTrip.long.ts.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, it } from "vitest";
import { inventedCohort } from "./corpus/first/cohort.js";
import { roundTrip, roundTripLayouts } from "./roundTrip.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "round-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const cohort = inventedCohort(60, 7);
const some = ["semicolons-and-commas", "row-an-eye", "month-first"];

it.each(
  roundTripLayouts(cohort)
    .filter(({ name }) => some.includes(name))
    .map((one) => [one.name, one] as const),
)(
  "%s: the same numbers as in the project's own form",
  (_, one) => roundTrip(cohort, one, folder),
  60_000,
);
