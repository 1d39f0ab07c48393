import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { createRandom } from "../../src/inference/index.js";
import { simulateCohort, simulateTruth } from "../../src/simulation/index.js";
import { inFull } from "../builders/inFull.js";

test("the same seed gives the same cohort, another seed another", async () => {
  const first = await simulateCohort({ children: 500, seed: 3 });
  const again = await simulateCohort({ children: 500, seed: 3 });
  const other = await simulateCohort({ children: 500, seed: 4 });
  expect(again).toEqual(first);
  expect(other.readings.sphere).not.toEqual(first.readings.sphere);
});

test("the bytes of a small cohort are those that were committed", async () => {
  // Own value, for regression and for other machines; the same under Node 20 and 22 on x86-64 Linux.
  const cohort = await simulateCohort({
    children: 2000,
    seed: 1,
    instruments: ["handheld", "table"],
  });
  expect(digest(cohort)).toBe("fc7322d7af03466016c0b27e222462f8ad0f0777e774e204e65782f59e4b1012");
});

test("adding children does not change the others", async () => {
  const few = await simulateCohort({ children: 9000, seed: 3 });
  const many = await simulateCohort({ children: 9500, seed: 3 });
  expect(many.readings.sphere.slice(0, few.readings.n)).toEqual(few.readings.sphere);
  expect(many.readings.subject.codes.slice(0, few.readings.n)).toEqual(few.readings.subject.codes);
  expect(many.truth.latent.left.M.slice(0, 9000)).toEqual(few.truth.latent.left.M);
  expect(many.findings.sphere.slice(0, few.findings.n)).toEqual(few.findings.sphere);
});

test("any number of workers gives the same bytes", async () => {
  // Threads run compiled code only, so this test takes the build that `npm test` makes first.
  const built = new URL("../../dist/simulation/index.js", import.meta.url);
  expect(existsSync(built), "run npm run build first").toBe(true);
  const dist: typeof import("../../src/simulation/index.js") = await import(built.href);
  const digests = new Set<string>();
  for (const workers of inFull([1, 3], [1, 2, 3, 8])) {
    digests.add(
      digest(await dist.simulateCohort({ children: inFull(10_000, 30_000), seed: 3, workers })),
    );
  }
  digests.add(
    digest(await simulateCohort({ children: inFull(10_000, 30_000), seed: 3, workers: 2 })),
  );
  expect([...digests]).toHaveLength(1);
});

test("a worker's failure and a stopped run reject", async () => {
  const dist: typeof import("../../src/simulation/index.js") = await import(
    new URL("../../dist/simulation/index.js", import.meta.url).href
  );
  const stop = new AbortController();
  const run = dist.simulateCohort({
    children: 100_000,
    seed: 1,
    workers: 2,
    signal: stop.signal,
    onProgress: () => stop.abort(new Error("enough")),
  });
  await expect(run).rejects.toThrow("enough");
  const failing = dist.simulateCohort({
    children: 20_000,
    seed: 1,
    workers: 2,
    refer: () => {
      throw new Error("a rule that fails");
    },
  });
  await expect(failing).rejects.toThrow("a rule that fails");
});

test("progress ends at one, and a run can be stopped", async () => {
  const seen: number[] = [];
  await simulateCohort({ children: 20_000, seed: 1, onProgress: ({ done }) => seen.push(done) });
  expect(seen.at(-1)).toBe(1);
  expect(seen).toEqual([...seen].sort((a, b) => a - b));
  const signal = AbortSignal.abort(new Error("stopped"));
  await expect(simulateCohort({ children: 10, seed: 1, signal })).rejects.toThrow("stopped");
});

test("readings and findings have the readers' shape, whatever the seed", async () => {
  await fc.assert(
    fc.asyncProperty(fc.integer(), fc.integer({ min: 1, max: 60 }), async (seed, children) => {
      const { readings, findings, truth, n } = await simulateCohort({
        children,
        seed,
        scenario: "random-passes",
      });
      expect(n).toBe(children);
      for (const source of [readings, findings]) {
        for (const coded of [
          source.subject,
          source.eye,
          source.status,
          source.site!,
          source.cycloplegia,
        ]) {
          expect(coded.codes).toHaveLength(source.n);
          expect(Math.max(-1, ...coded.codes)).toBeLessThan(coded.labels.length);
        }
        for (let row = 0; row < source.n; row++) {
          const measured = source.status.codes[row] === 0;
          expect(Number.isNaN(source.sphere[row])).toBe(!measured);
          expect(Number.isNaN(source.cylinder[row])).toBe(!measured);
          if (!measured) continue;
          expect(source.cylinder[row]).toBeLessThanOrEqual(0);
          expect((source.sphere[row] * 4) % 1).toBeCloseTo(0, 12);
          if (source.cylinder[row] === 0) expect(source.axis[row]).toBeNaN();
          else expect(source.axis[row] > 0 && source.axis[row] <= 180).toBe(true);
        }
      }
      const rowsOf = (child: number) =>
        Array.from(findings.subject.codes).filter((code) => code === child).length;
      for (let child = 0; child < n; child++) {
        expect(rowsOf(child)).toBe(truth.examined[child] === 1 ? 2 : 0);
      }
    }),
    { numRuns: 40 },
  );
});

test("a rule and a condition of one's own are used, in both layers", async () => {
  const options = {
    children: 3000,
    seed: 5,
    scenario: "complete",
    condition: ({ right }: { right: { M: number } }) => right.M >= 2,
    refer: ({ right }: { right: { status: string; M: number } }) =>
      right.status !== "measured" ? "undecidable" : right.M >= 1 ? "refer" : "pass",
  } as const;
  const { truth, n } = await simulateCohort(options);
  for (let child = 0; child < n; child++) {
    expect(truth.conditionByLatent[child]).toBe(truth.latent.right.M[child] >= 2 ? 1 : 0);
    expect(truth.conditionByFinding[child]).toBe(truth.finding.right.M[child] >= 2 ? 1 : 0);
  }
  const counted = await simulateTruth(options);
  const cases = truth.conditionByFinding.reduce((sum, one) => sum + one, 0);
  expect(counted.byFinding.accuracy.prevalence.value).toBe(cases / n);
});

test("mistakes are named", async () => {
  const message = (options: object) =>
    simulateCohort({ children: 10, seed: 1, ...options }).then(
      () => "",
      (error: Error) => error.message,
    );
  expect(await message({ children: 0 })).toBe(
    "simulateCohort requires children as a whole number of at least 1, got 0",
  );
  expect(await message({ seed: 1.5 })).toContain("seed as a whole number, got 1.5");
  expect(await message({ scenario: "nobody" })).toContain("a scenario of programme");
  expect(await message({ instruments: [] })).toContain("distinct instruments");
  expect(await message({ parameters: { population: { agelow: 3 } } })).toBe(
    'simulateCohort requires a known parameter, got "population.agelow"',
  );
  expect(await message({ parameters: { people: { ageLow: 3 } } })).toContain('"people.ageLow"');
  expect(await message({ parameters: { population: { ageLow: Number.NaN } } })).toContain(
    "got NaN",
  );
  expect(await message({ parameters: { population: { ageLow: 90 } } })).toContain("ageHigh");
  expect(await message({ parameters: { handheld: { grossShare: 1.5 } } })).toContain("share");
  expect(await message({ parameters: { handheld: { ownSd: -1 } } })).toContain("ownSd");
  expect(await message({ parameters: { programme: { repeats: 40 } } })).toContain("at most 31");
  expect(await message({ parameters: { programme: { attempts: 1.5 } } })).toContain(
    "whole numbers",
  );
  expect(await message({ workers: 0 })).toContain("workers");
});

test("a restarted sequence equals a fresh one", () => {
  const random = createRandom(5);
  random.normal();
  random.restart(8, 3);
  const fresh = createRandom(8, 3);
  for (let draw = 0; draw < 100; draw++) {
    expect(random.normal()).toBe(fresh.normal());
    expect(random.uniform()).toBe(fresh.uniform());
  }
});

/** SHA-256 over every column of numbers, in a fixed order. */
function digest(value: object): string {
  const hash = createHash("sha256");
  const visit = (part: unknown): void => {
    if (ArrayBuffer.isView(part)) hash.update(part as Uint8Array);
    else if (part !== null && typeof part === "object") Object.values(part).forEach(visit);
  };
  visit(value);
  return hash.digest("hex");
}
