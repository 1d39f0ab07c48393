import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { limitsOfAgreement } from "../../src/agreement/index.js";
import {
  eyePairs,
  linkCohort,
  readFindings,
  readReadings,
  type SourceRow,
} from "../../src/cohort/index.js";
import { createRandom } from "../../src/inference/index.js";
import { defineProtocol, type Protocol } from "../../src/protocol/index.js";
import { weightedAgreement } from "../../src/study/run/weightedAgreement.js";

const { programme: _, ...json } = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
const limit = { quantity: "M", relation: ">=", limit: 1 };
const protocolWith = (more: object): Protocol =>
  defineProtocol({
    ...json,
    eye: "right",
    conditions: [{ ...json.conditions[0], target: limit, referWhen: limit }],
    ...more,
  });

/** An instrument without bias; everyone referred is examined, and one pass in ten. */
async function programme(sampled: boolean) {
  const random = createRandom(3);
  const normal = () =>
    Math.sqrt(-2 * Math.log(1 - random.uniform())) * Math.cos(2 * Math.PI * random.uniform());
  const readings: SourceRow[] = [];
  const findings: SourceRow[] = [];
  for (let child = 0; child < 4000; child++) {
    const truth = normal();
    const reading = Math.round(100 * (truth + normal())) / 100;
    const row = { subject: `c${child}`, eye: "OD", cylinder: 0, axis: 180 };
    readings.push({ ...row, sphere: reading });
    const refers = reading >= 1;
    if (refers || (sampled && child % 10 === 0)) {
      findings.push({
        ...row,
        sphere: truth,
        verificationReason: refers ? "referred" : "sampled",
      });
    }
  }
  return linkCohort({
    readings: await readReadings(readings),
    findings: await readFindings(findings),
  });
}

/** Three standard errors, from a 95 % interval. */
const threeErrors = ({ low, high }: { readonly low: number; readonly high: number }) =>
  (3 * (high - low)) / (2 * 1.96);

it("takes back the bias that comes from examining the referred", async () => {
  const cohort = await programme(true);
  const among = limitsOfAgreement(eyePairs(cohort, { eyes: "right" }));
  const weighted = weightedAgreement(cohort, protocolWith({}));
  if (weighted?.kind !== "weighted-limits") throw new Error("no limits");
  // the examined alone are chosen by a high reading; with all of them the bias is 0 and the SD 1
  expect(among.bias.low).toBeGreaterThan(0.3);
  expect(Math.abs(weighted.bias.value)).toBeLessThan(threeErrors(weighted.bias));
  expect(Math.abs(weighted.sd.value - 1)).toBeLessThan(threeErrors(weighted.sd));
  // by hand: the referred stand for themselves, a drawn pass for all passes over the drawn ones
  const { test, reference } = eyePairs(cohort, { eyes: "right" });
  const passes = test.filter((value) => value < 1).length;
  const referred = cohort.readings.sphere.filter((value) => value >= 1).length;
  const each = (cohort.readings.n - referred) / passes;
  let sum = 0;
  test.forEach((value, row) => {
    sum += (value < 1 ? each : 1) * (value - reference[row]);
  });
  expect(weighted.bias.value).toBeCloseTo(sum / cohort.readings.n, 10);
});

it("refuses with the reason where no pass was drawn, and is not asked where all were examined", async () => {
  const cohort = await programme(false);
  expect(weightedAgreement(cohort, protocolWith({}))).toMatchObject({
    kind: "undefined",
    reason: expect.stringContaining("none of those who passed was drawn"),
  });
  expect(weightedAgreement(cohort, protocolWith({ verification: "complete" }))).toBe(null);
});
