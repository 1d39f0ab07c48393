import type { SimulationOverrides } from "./parameters.js";

/** A named scenario: what it is for, and which parameters it moves. */
export interface SimulationScenario {
  readonly description: string;
  readonly parameters: SimulationOverrides;
}

/**
 * The named scenarios; all invented.
 *
 * @example
 * simulationScenarios["random-passes"].parameters.programme.passesSampled // => 0.1
 */
export const simulationScenarios = {
  programme: {
    description: "preschool programme; 67 % of referred children examined, at random; no passes",
    parameters: { programme: { attempts: 3 } },
  },
  "random-passes": {
    description: "the same, and a random 10 % of passes examined (a generous share)",
    parameters: { programme: { attempts: 3, passesSampled: 0.1, passesSelfPresented: 0 } },
  },
  "self-presenting-passes": {
    description: "the same, and 10 % of passes who come by themselves, diseased ones more often",
    parameters: { programme: { attempts: 3, passesSelfPresented: 0.1 } },
  },
  "disease-follow-up": {
    description: "random passes as above; referred children with the condition come more often",
    parameters: {
      programme: {
        attempts: 3,
        passesSampled: 0.1,
        passesSelfPresented: 0,
        followUpDisease: 0.5,
      },
    },
  },
  complete: {
    description: "one reading of each eye, every child examined",
    parameters: { programme: { followUp: 50, passesSampled: 1 } },
  },
  "hard-to-read": {
    description: "as complete, with an instrument that reads a third of eyes not at all",
    parameters: {
      handheld: { unreadableYoung: 0.3, unreadableOld: 0.3 },
      programme: { followUp: 50, passesSampled: 1 },
    },
  },
  clinic: {
    description: "clinic children of 6 to 18 years, mostly myopic; all examined on the same day",
    parameters: {
      population: {
        ageLow: 72,
        ageHigh: 216,
        myopicMaximum: 0.95,
        myopicAge: 3,
        myopicSpread: 0.5,
        myopicStart: -0.5,
        myopicDepthLow: 2.3,
        myopicDepthHigh: 2.3,
        eyeGrowth: 0.2,
        j0Right: 0.34,
        j0Left: 0.47,
        j0Sd: 0.39,
        j45Sd: 0.14,
        j0Correlation: 0.85,
        j45Correlation: -0.26,
      },
      handheld: {
        schoolBase: 0.3,
        grossShare: 0.04,
        grossSd: 3.5,
        ownSd: 0.37,
        kneeLow: -5.2,
        compression: 0.95,
      },
      table: { schoolBase: 0.35, schoolSlope: 0.15, schoolFrom: -0.5, sharedSd: 0.27, ownSd: 0.21 },
      reference: { delayMean: 0, inadequateShare: 0 },
      programme: { followUp: 50, passesSampled: 1 },
    },
  },
  "independent-eyes": {
    description: "as complete, all of one age, and the two eyes share nothing",
    parameters: {
      population: { eyesLinked: 0, anisometropicShare: 0, ageLow: 60, ageHigh: 60 },
      handheld: { unreadableOdds: 1 },
      table: { unreadableOdds: 1 },
      reference: { inadequateShare: 0, delayMean: 0 },
      programme: { followUp: 50, passesSampled: 1 },
    },
  },
} as const satisfies { readonly [name: string]: SimulationScenario };

export type ScenarioName = keyof typeof simulationScenarios;
