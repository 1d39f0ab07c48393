import { correctByDecision } from "../../../src/accuracy/index.js";
import { type SimulatedCohort, simulateCohort } from "../../../src/simulation/index.js";

const measures = ["sensitivity", "specificity", "prevalence"] as const;
type Measure = (typeof measures)[number];
type Each = { readonly [measure in Measure]: number };

/** A way in which children come to their exam, and rules studied on it. */
export interface ScenarioRow {
  readonly scenario: keyof typeof scenarios;
  readonly rule: keyof typeof rules;
  /** Programmes with a value of all three. */
  readonly points: number;
  /** Mean of corrected minus true, its Monte Carlo error, and the mean ratio bias of sensitivity. */
  readonly off: Each;
  readonly error: Each;
  readonly ratioBias: number;
}

// attendance by age is set to 0: it would be a stratum that is not declared here
const drawn = { followUpAge: 0, passesSampled: 0.3, passesSelfPresented: 0 };
/** `holds`: examination depends on the recorded decision, the site and the draw alone. */
export const scenarios = {
  "random passes": { holds: true, programme: drawn, selfKnown: true },
  "decisions depart": { holds: true, programme: { ...drawn, departures: 0.05 }, selfKnown: true },
  "some come by themselves, known of the drawn": {
    holds: true,
    programme: { ...drawn, passesSelfPresented: 0.03 },
    selfKnown: true,
  },
  "some come by themselves, unknown of the drawn": {
    holds: true,
    programme: { ...drawn, passesSelfPresented: 0.03 },
    selfKnown: false,
  },
  "everybody examined": {
    holds: true,
    programme: { ...drawn, followUp: 50, passesSampled: 1 },
    selfKnown: true,
  },
  "no pass examined": { holds: false, programme: { ...drawn, passesSampled: 0 }, selfKnown: true },
  "referred come by their condition": {
    holds: false,
    programme: { ...drawn, followUpDisease: 1.5 },
    selfKnown: true,
  },
} as const;

/** What the studied rule says, from the programme's own rule and the worse eye's readings. */
export const rules = {
  equal: (refers: boolean) => refers,
  stricter: (refers: boolean, high: number, low: number) => refers && (high >= 3.5 || low <= -3.25),
  looser: (refers: boolean, high: number) => refers || high >= 2,
  crossing: (_: boolean, high: number) => high >= 2.5,
} as const;

/** Corrects as many simulated programmes of a scenario as asked for, by every rule. */
export async function simulateScenario(
  scenario: keyof typeof scenarios,
  { rounds, children, seed }: { rounds: number; children: number; seed: number },
): Promise<ScenarioRow[]> {
  const { programme, selfKnown } = scenarios[scenario];
  const names = Object.keys(rules) as (keyof typeof rules)[];
  const off = names.map(() => [] as Each[]);
  const bias = names.map(() => [] as number[]);
  for (let round = 0; round < rounds; round++) {
    const cohort = await simulateCohort({
      children,
      seed: seed + round,
      parameters: { programme: { attempts: 2, ...programme } },
    });
    const columns = childColumns(cohort, selfKnown);
    const { conditionByFinding: condition } = cohort.truth;
    for (const [at, name] of names.entries()) {
      const test = columns.own.map((own, child) =>
        own === null
          ? ("undecidable" as const)
          : rules[name](own, columns.high[child], columns.low[child]),
      );
      const found = correctByDecision(
        { ...columns.given, test },
        { undecidable: "refer", replicates: 20 },
      );
      const share = (refers: boolean, sick: number) => {
        const of = test.filter((_, child) => condition[child] === sick);
        return of.filter((one) => (one !== false) === refers).length / of.length;
      };
      const truth = {
        sensitivity: share(true, 1),
        specificity: share(false, 0),
        prevalence: condition.reduce((sum, one) => sum + one, 0) / children,
      };
      if (measures.some((measure) => found[measure].kind === "undefined")) continue;
      off[at].push(each((measure) => found[measure].value! - truth[measure]));
      bias[at].push(found.ratioBias ?? 0);
    }
  }
  const mean = (values: readonly number[]) =>
    values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
  return names.map((rule, at) => {
    const values = (measure: Measure) => off[at].map((one) => one[measure]);
    return {
      scenario,
      rule,
      points: off[at].length,
      off: each((measure) => mean(values(measure))),
      error: each((measure) => {
        const middle = mean(values(measure));
        const squares = mean(values(measure).map((value) => (value - middle) ** 2));
        return Math.sqrt(squares / Math.max(1, off[at].length - 1));
      }),
      ratioBias: mean(bias[at]),
    };
  });
}

const each = (of: (measure: Measure) => number): Each => ({
  sensitivity: of("sensitivity"),
  specificity: of("specificity"),
  prevalence: of("prevalence"),
});

/** Each child's decision, reading and exam, from the rows of the simulator. */
function childColumns({ n, readings, findings, truth }: SimulatedCohort, selfKnown: boolean) {
  const word = (row: number) =>
    readings.programmeDecision!.labels[readings.programmeDecision!.codes[row]];
  const recorded = Array.from({ length: n }, () => "pass");
  const site = Array.from({ length: n }, () => "");
  const last = { right: new Float64Array(n), left: new Float64Array(n) };
  for (let row = 0; row < readings.n; row++) {
    const child = readings.subject.codes[row];
    recorded[child] = word(row);
    site[child] = String(readings.site!.codes[row]);
    const side = readings.eye.labels[readings.eye.codes[row]];
    last[side][child] = readings.sphere[row] + readings.cylinder[row] / 2;
  }
  const reason = Array.from({ length: n }, () => "not-examined");
  const selfPresented = Array.from({ length: n }, (): boolean | null => null);
  for (let row = 0; row < findings.n; row++) {
    const child = findings.subject.codes[row];
    reason[child] = findings.verificationReason.labels[findings.verificationReason.codes[row]];
    const self = findings.selfPresented!;
    const said = self.labels[self.codes[row]];
    selfPresented[child] = said === "unknown" ? null : said === "yes";
  }
  const worse = (pick: (...values: number[]) => number) =>
    Array.from({ length: n }, (_, child) =>
      pick(...[last.right[child], last.left[child]].filter((value) => !Number.isNaN(value))),
    );
  return {
    own: Array.from(truth.decision.codes, (code) => (code === 2 ? null : code === 0)),
    high: worse(Math.max),
    low: worse(Math.min),
    given: {
      recorded,
      reference: reason.map((why, child) =>
        why === "not-examined" ? null : truth.conditionByFinding[child] === 1,
      ),
      reason,
      strata: site,
      ...(selfKnown ? { selfPresented } : {}),
    },
  };
}
