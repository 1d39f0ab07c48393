// Prepare, draft, audit and study of every layout, and of any cohort, against the project's own form.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, it } from "vitest";
import { inventedCohort } from "./corpus/first/cohort.js";
import { roundTrip, roundTripLayouts } from "./roundTrip.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "round-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const cohort = inventedCohort(120, 7);
const layouts = roundTripLayouts(cohort);

it.each(layouts.map((one) => [one.name, one] as const))(
  "%s: the same numbers as in the project's own form",
  (_, one) => roundTrip(cohort, one, folder),
  60_000,
);

it("holds for any invented cohort", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 1e6 }),
      fc.integer({ min: 0, max: layouts.length - 1 }),
      async (seed, which) => {
        const children = inventedCohort(60, seed);
        const one = roundTripLayouts(children)[which]!;
        await roundTrip(children, one, folder);
      },
    ),
    { numRuns: 40 },
  );
}, 600_000);
