import type { Findings, Readings } from "../cohort/index.js";
import { InputError, type RunOptions } from "../results/index.js";
import { requireWhole } from "../rows/index.js";
import { collectFindings, collectReadings } from "./columns.js";
import {
  type BlockPlan,
  mostSlots,
  recordLength,
  type SimulatedInstrument,
  simulatedInstruments,
  slotsOf,
} from "./drawBlock.js";
import { eachBlock } from "./eachBlock.js";
import type { SimulationOverrides, SimulationParameters } from "./parameters.js";
import { followProgramme, simulatedDecisions } from "./programme.js";
import { resolveParameters } from "./resolveParameters.js";
import type { ScenarioName } from "./scenarios.js";
import type { SimulatedRules } from "./simulatedChild.js";
import type { SimulatedTruth } from "./simulatedTruth.js";
import { collectTruth } from "./truthColumns.js";

export interface SimulationOptions extends RunOptions, SimulatedRules {
  /** Number of children. */
  readonly children: number;
  readonly seed: number;
  /** Default "programme". */
  readonly scenario?: ScenarioName;
  readonly parameters?: SimulationOverrides;
  /** Instruments that read every child; the first one decides. Default handheld alone. */
  readonly instruments?: readonly SimulatedInstrument[];
  /** Threads; the result is the same for any number. Default 1, the caller's own. */
  readonly workers?: number;
}

/** Invented readings and findings with the truth behind them. */
export interface SimulatedCohort {
  readonly kind: "simulated-cohort";
  readonly n: number;
  readonly seed: number;
  readonly scenario: ScenarioName;
  readonly parameters: SimulationParameters;
  readonly readings: Readings;
  readonly findings: Findings;
  readonly truth: SimulatedTruth;
}

/**
 * Invented children with known truth: latent refraction of each eye, the cycloplegic finding it
 * would give, the dry readings of one or two instruments, and who is examined afterwards.
 *
 * Readings and findings have the shape that the readers give: a row is one measurement of one eye,
 * dioptres, cylinders in minus form, 12 mm vertex; the age of a finding is the age at the exam. In
 * `truth` a row is a child. Findings hold the examined children only; `truth.finding` holds what the
 * exam finds or would find in everyone. Readings carry what the programme recorded (with `departures`
 * now and then against its rule), who was asked to an exam and who came; findings, whether a pass came
 * by himself. Every value of `parameters` is listed in
 * `simulationParameters` with unit, default and source; scenarios in `simulationScenarios`.
 *
 * A child depends on the seed and its own number alone: more children, workers, repeats or
 * instruments change no other row, and the same seed gives the same bytes. `refer` and `condition`
 * see the child's reading, finding or latent values (`SimulatedChild`), and run in this thread.
 *
 * @param options children, seed, and what departs from the defaults
 * @throws when children is not a positive whole number, a parameter is unknown or impossible
 *
 * @example
 * (await simulateCohort({ children: 100, seed: 1, scenario: "complete" })).readings.n // => 200
 */
export async function simulateCohort(options: SimulationOptions): Promise<SimulatedCohort> {
  const { children, seed, scenario = "programme" } = options;
  const plan = planOf(options);
  const readings = collectReadings(plan, children);
  const findings = collectFindings(children);
  const truth = collectTruth(children);
  const follow = followProgramme(plan, options);
  const length = recordLength(plan);
  await eachBlock(plan, children, options, (records, from, to) => {
    for (let index = from; index < to; index++) {
      const at = (index - from) * length;
      const outcome = follow(records, at);
      readings.add(index, records, at, outcome);
      truth.add(index, records, at, outcome);
      if (outcome.examined) findings.add(index, records, at, outcome);
    }
  });
  const subjects = Array.from({ length: children }, (_, index) => `child-${index + 1}`);
  const sites = Array.from(
    { length: plan.parameters.population.sites },
    (_, site) => `site-${site + 1}`,
  );
  return {
    kind: "simulated-cohort",
    n: children,
    seed,
    scenario,
    parameters: plan.parameters,
    readings: readings.finish(subjects, sites),
    findings: findings.finish(subjects, sites),
    truth: truth.finish(simulatedDecisions),
  };
}

/** What is drawn, from a caller's options. */
export function planOf(options: SimulationOptions): BlockPlan {
  const { children, seed, scenario = "programme", instruments = ["handheld"] } = options;
  requireWhole("simulateCohort", "children", children, 1);
  requireWhole("simulateCohort", "seed", seed);
  const { workers = 1 } = options;
  requireWhole("simulateCohort", "workers", workers, 1);
  const known = instruments.every((name) => simulatedInstruments.includes(name));
  if (instruments.length === 0 || !known || new Set(instruments).size < instruments.length) {
    throw new InputError(
      `simulateCohort requires distinct instruments of handheld, table, got ${instruments.join(", ")}`,
    );
  }
  const parameters = resolveParameters(scenario, options.parameters);
  const plan = { seed, instruments, parameters };
  const slots = slotsOf(plan);
  const { repeats, attempts } = parameters.programme;
  if (!(repeats >= 1 && attempts >= 1 && Number.isInteger(slots) && slots <= mostSlots)) {
    throw new InputError(
      `simulateCohort requires whole numbers of repeats and attempts, at most ${mostSlots} together, got ${repeats} and ${attempts}`,
    );
  }
  return plan;
}
