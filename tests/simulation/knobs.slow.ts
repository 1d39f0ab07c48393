import { expect, test } from "vitest";
import {
  type SimulatedCohort,
  type SimulationOverrides,
  simulateCohort,
  simulationParameters,
} from "../../src/simulation/index.js";

// Each knob must move what it enters, may move what follows from that, and nothing else: as every
// draw is made whatever the knobs say, everything else stays the same to the last bit.

type Part =
  | "age"
  | "site"
  | "day"
  | "latentM"
  | "latentJ0"
  | "latentJ45"
  | "disease"
  | "finding"
  | "delay"
  | "recorded"
  | "handheldPower"
  | "handheldStatus"
  | "handheldScore"
  | "handheldPupil"
  | "tablePower"
  | "tableStatus"
  | "tableScore"
  | "tablePupil"
  | "decision"
  | "referred"
  | "examined";

/** What may follow from what. */
const follows: Readonly<Record<Part, readonly Part[]>> = {
  age: [
    "latentM",
    "handheldPower",
    "handheldStatus",
    "tablePower",
    "tableStatus",
    "examined",
    "finding",
  ],
  site: ["examined"],
  day: [],
  latentM: [
    "finding",
    "disease",
    "handheldPower",
    "handheldStatus",
    "tablePower",
    "tableStatus",
    "examined",
  ],
  latentJ0: ["finding", "handheldPower", "handheldStatus", "tablePower", "tableStatus", "examined"],
  latentJ45: [
    "finding",
    "handheldPower",
    "handheldStatus",
    "tablePower",
    "tableStatus",
    "examined",
  ],
  disease: ["handheldStatus", "tableStatus"],
  finding: [],
  delay: ["finding"],
  recorded: [],
  handheldPower: ["handheldStatus", "decision"],
  handheldStatus: ["decision"],
  handheldScore: [],
  handheldPupil: ["handheldPower"],
  tablePower: ["tableStatus"],
  tableStatus: [],
  tableScore: [],
  tablePupil: ["tablePower"],
  decision: ["referred", "examined"],
  referred: ["examined"],
  examined: [],
};

/** What an instrument's knob enters: power, status, score or pupil. */
const instrumentKnobs: Readonly<Record<string, readonly string[]>> = {
  youngBase: ["Power"],
  youngSlope: ["Power"],
  youngFrom: ["Power"],
  schoolBase: ["Power"],
  schoolSlope: ["Power"],
  schoolFrom: ["Power"],
  sharedSd: ["Power"],
  ownSd: ["Power"],
  j0Shift: ["Power"],
  j0Sd: ["Power"],
  j0Shared: ["Power"],
  j45Sd: ["Power"],
  grossShare: ["Power"],
  grossSd: ["Power"],
  kneeLow: ["Power"],
  kneeHigh: ["Power"],
  compression: ["Power"],
  rangeLow: ["Status", "Power"],
  rangeHigh: ["Status", "Power"],
  rangeFlagged: ["Status"],
  flagYoung: ["Status"],
  flagOld: ["Status"],
  unreadableYoung: ["Status"],
  unreadableOld: ["Status"],
  unreadableOdds: ["Status"],
  unreadableQuality: ["Status"],
  qualityLasting: ["Score", "Power", "Status"],
  qualityShared: ["Score", "Power", "Status"],
  qualityNoise: ["Power"],
  qualityGross: ["Power"],
  scoreMean: ["Score"],
  scoreSlope: ["Score"],
  pupilMean: ["Pupil"],
  pupilSd: ["Pupil"],
  pupilEffect: ["Power"],
  step: ["Power"],
};

const knobs: Readonly<Record<string, Readonly<Record<string, readonly Part[]>>>> = {
  population: {
    ageLow: ["age"],
    ageHigh: ["age"],
    sites: ["site"],
    siteSd: ["handheldPower", "tablePower"],
    days: ["day"],
    peakInfant: ["latentM"],
    peakAdult: ["latentM"],
    peakFade: ["latentM"],
    peakSdInfant: ["latentM"],
    peakSdAdult: ["latentM"],
    hyperopicInfant: ["latentM"],
    hyperopicAdult: ["latentM"],
    hyperopicFade: ["latentM"],
    hyperopicExcess: ["latentM"],
    myopicMaximum: ["latentM"],
    myopicAge: ["latentM"],
    myopicSpread: ["latentM"],
    myopicStart: ["latentM"],
    myopicRate: ["latentM"],
    myopicOnset: ["latentM"],
    myopicDepthLow: ["latentM"],
    myopicDepthHigh: ["latentM"],
    eyesLinked: [
      "latentM",
      "latentJ0",
      "latentJ45",
      "handheldPower",
      "handheldScore",
      "handheldPupil",
      "tablePower",
      "tableScore",
      "tablePupil",
    ],
    eyeSd: ["latentM"],
    eyeGrowth: ["latentM"],
    anisometropicShare: ["latentM"],
    anisometropicSd: ["latentM"],
    j0Right: ["latentJ0"],
    j0Left: ["latentJ0"],
    j0Sd: ["latentJ0"],
    j45Sd: ["latentJ45"],
    j0Correlation: ["latentJ0"],
    j45Correlation: ["latentJ45"],
    astigmatismTail: ["latentJ0", "latentJ45"],
    strabismusBase: ["disease"],
    strabismusHyperopia: ["disease"],
    strabismusAnisometropia: ["disease"],
    opacityShare: ["disease"],
  },
  accommodation: {
    youngAge: ["handheldPower", "tablePower"],
    schoolAge: ["handheldPower", "tablePower"],
    variation: ["handheldPower", "tablePower"],
  },
  handheld: forInstrument("handheld"),
  table: forInstrument("table"),
  reference: {
    errorSd: ["finding"],
    j0Sd: ["finding"],
    j45Sd: ["finding"],
    step: ["finding"],
    inadequateShare: ["finding", "recorded"],
    inadequateLeft: ["finding"],
    inadequateKnown: ["recorded"],
    delayMean: ["delay"],
    progression: ["finding"],
  },
  programme: {
    refersUndecidable: ["referred"],
    departures: ["referred"],
    followUp: ["examined"],
    followUpResult: ["examined"],
    followUpSite: ["examined"],
    followUpAge: ["examined"],
    followUpDisease: ["examined"],
    passesSampled: ["examined"],
    passesSelfPresented: ["examined"],
    selfPresentedOdds: ["examined"],
  },
};

/** Knobs that also reach a part by a way of their own. */
const sideWays: Readonly<Record<string, readonly Part[]>> = {
  // The accommodation left by inadequate cycloplegia is a share of the table instrument's.
  table: ["finding"],
  accommodation: ["finding"],
};

/** Wide ages and narrow ranges, so that every knob has something to move. */
const base: SimulationOverrides = {
  population: { ageLow: 24, ageHigh: 180, anisometropicShare: 0.3, strabismusBase: -2 },
  handheld: { rangeLow: -3, rangeHigh: 3, kneeLow: -2, kneeHigh: 2, compression: 0.3 },
  table: { rangeLow: -3, rangeHigh: 3, kneeLow: -2, kneeHigh: 2, compression: 0.3 },
  reference: { inadequateShare: 0.3 },
  programme: { attempts: 1, passesSampled: 0.2, passesSelfPresented: 0.2 },
};

const whole: Readonly<Record<string, number>> = { ageLow: 30, ageHigh: 170, sites: 7, days: 90 };
const shares: Readonly<Record<string, number>> = { eyesLinked: 0.5, refersUndecidable: 0 };

test("every knob has its row in the table, but for repeats and attempts", () => {
  for (const [group, rows] of Object.entries(simulationParameters)) {
    const named = Object.keys(rows).filter((name) => name !== "repeats" && name !== "attempts");
    expect(Object.keys(knobs[group]).sort()).toEqual(named.sort());
  }
});

test("each knob moves what it should and nothing else", async () => {
  const before = await partsOf(base);
  for (const [group, rows] of Object.entries(knobs)) {
    for (const [name, enters] of Object.entries(rows)) {
      const held = (base as Record<string, Record<string, number>>)[group]?.[name];
      const row = (
        simulationParameters as unknown as Record<string, Record<string, { value: number }>>
      )[group][name];
      const value = held ?? row.value;
      const moved = whole[name] ?? shares[name] ?? (value === 0 ? 0.5 : value * 1.25);
      const override = {
        ...base,
        [group]: { ...base[group as keyof SimulationOverrides], [name]: moved },
      };
      const after = await partsOf(override);
      const changed = (Object.keys(follows) as Part[]).filter((part) =>
        differs(before[part], after[part]),
      );
      const allowed = closure([...enters, ...(sideWays[group] ?? [])]);
      expect.soft(changed, `${group}.${name} moves`).toEqual(expect.arrayContaining([...enters]));
      expect
        .soft([...allowed], `${group}.${name} moves nothing else`)
        .toEqual(expect.arrayContaining(changed));
    }
  }
});

test("a second repeat and a second instrument leave the first reading as it is", async () => {
  const one = await simulateCohort({
    children: 300,
    seed: 2,
    parameters: { programme: { attempts: 1 } },
  });
  const two = await simulateCohort({
    children: 300,
    seed: 2,
    instruments: ["handheld", "table"],
    parameters: { programme: { attempts: 1, repeats: 2 } },
  });
  const firsts = Array.from(two.readings.sphere).filter(
    (_, row) => two.readings.repeat![row] === 1 && two.readings.instrument.codes[row] === 0,
  );
  expect(firsts).toEqual(Array.from(one.readings.sphere));
  expect(two.readings.n).toBe(4 * one.readings.n);
});

test("further attempts are made while an eye has no measurement, and the last one decides", async () => {
  const { readings, truth, n } = await simulateCohort({
    children: 4000,
    seed: 2,
    parameters: { programme: { attempts: 3 }, handheld: { unreadableYoung: 0.3 } },
    refer: ({ right, left }) =>
      right.status === "measured" && left.status === "measured" ? "pass" : "undecidable",
  });
  const measured = new Map<number, boolean[]>();
  for (let row = 0; row < readings.n; row += 2) {
    const child = readings.subject.codes[row];
    const both = readings.status.codes[row] === 0 && readings.status.codes[row + 1] === 0;
    measured.set(child, [...(measured.get(child) ?? []), both]);
  }
  for (let child = 0; child < n; child++) {
    const attempts = measured.get(child)!;
    expect(attempts.slice(0, -1)).not.toContain(true);
    expect(attempts.length === 3 || attempts.at(-1)).toBe(true);
    expect(truth.decision.labels[truth.decision.codes[child]]).toBe(
      attempts.at(-1) ? "pass" : "undecidable",
    );
  }
  expect(Math.max(...Array.from(measured.values(), (attempts) => attempts.length))).toBe(3);
});

function forInstrument(instrument: "handheld" | "table"): Record<string, readonly Part[]> {
  return Object.fromEntries(
    Object.entries(instrumentKnobs).map(([name, parts]) => [
      name,
      parts.map((part) => `${instrument}${part}` as Part),
    ]),
  );
}

function closure(parts: readonly Part[]): Set<Part> {
  const all = new Set<Part>();
  const visit = (part: Part) => {
    if (all.has(part)) return;
    all.add(part);
    follows[part].forEach(visit);
  };
  parts.forEach(visit);
  return all;
}

/** Differs in a row where both are known. */
function differs(first: ArrayLike<number>, second: ArrayLike<number>): boolean {
  expect(first.length).toBe(second.length);
  for (let row = 0; row < first.length; row++) {
    if (first[row] !== second[row] && !Number.isNaN(first[row]) && !Number.isNaN(second[row]))
      return true;
  }
  return false;
}

async function partsOf(parameters: SimulationOverrides): Promise<Record<Part, ArrayLike<number>>> {
  const cohort = await simulateCohort({
    children: 1500,
    seed: 11,
    instruments: ["handheld", "table"],
    parameters,
  });
  const { truth, readings } = cohort;
  const perChild = (rows: ArrayLike<number>) =>
    Array.from({ length: cohort.n }, (_, child) => rows[child * 4]);
  const { latent, finding } = truth;
  const joined = (key: "M" | "J0" | "J45") => [...latent.right[key], ...latent.left[key]];
  const parts = {
    age: perChild(readings.ageMonths!),
    site: perChild(readings.site!.codes),
    day: perChild(readings.day!),
    latentM: joined("M"),
    latentJ0: joined("J0"),
    latentJ45: joined("J45"),
    disease: [...truth.strabismus, ...truth.mediaOpacity],
    finding: [finding.right, finding.left].flatMap(({ M, J0, J45 }) => [...M, ...J0, ...J45]),
    ...examParts(cohort),
    decision: truth.decision.codes,
    referred: truth.referred,
    examined: truth.examined,
  };
  const ofInstrument = (code: number, column: ArrayLike<number>) =>
    Array.from(column).filter((_, row) => readings.instrument.codes[row] === code);
  const power = (code: number) =>
    [readings.sphere, readings.cylinder, readings.axis].flatMap((column) =>
      ofInstrument(code, column),
    );
  return {
    ...parts,
    handheldPower: power(0),
    handheldStatus: ofInstrument(0, readings.status.codes),
    handheldScore: ofInstrument(0, readings.confidenceScore!),
    handheldPupil: ofInstrument(0, readings.pupilMm!),
    tablePower: power(1),
    tableStatus: ofInstrument(1, readings.status.codes),
    tableScore: ofInstrument(1, readings.confidenceScore!),
    tablePupil: ofInstrument(1, readings.pupilMm!),
  };
}

/** Delay and recorded cycloplegia of the examined; NaN for the others. */
function examParts({ n, findings, readings }: SimulatedCohort) {
  const delay = new Float64Array(n).fill(Number.NaN);
  const recorded = new Float64Array(n).fill(Number.NaN);
  for (let row = 0; row < findings.n; row++) {
    const child = findings.subject.codes[row];
    delay[child] = findings.day![row] - readings.day![child * 4];
    recorded[child] = findings.cycloplegia.codes[row];
  }
  return { delay, recorded };
}
