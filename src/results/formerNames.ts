import { InputError } from "./inputError.js";

/** Keys that were called otherwise before: former name to name, by what they say. */
const tables = {
  byGroup: { groups: "by" },
  areas: { valuesA: "first", valuesB: "second" },
  areaGroups: { groupA: "first", groupB: "second" },
  constraints: {
    minSensitivity: "sensitivityAtLeast",
    minSpecificity: "specificityAtLeast",
    maxReferralRate: "referralRateAtMost",
  },
  draws: { draws: "replicates" },
  examination: { verification: "examination" },
  imputations: { imputations: "replicates" },
  interval: { method: "interval" },
  label: { factor: "label" },
  limits: { limits: "intervalFor" },
  netBenefit: { thresholds: "thresholdProbabilities" },
  printed: { intervalMethod: "interval" },
  ratio: { ratioMethod: "ratioInterval" },
  smallCells: { threshold: "fewerThan" },
  tests: { testA: "first", testB: "second" },
  tolerance: { toleranceReplicates: "replicates" },
  undecidable: { unreadable: "undecidable" },
} as const;

/**
 * The former name under which a key is given; undefined where there is none, or where it now names
 * something else.
 *
 * @param known the keys of now
 */
export function formerNameOf(
  name: string,
  given: object,
  known: readonly string[],
): string | undefined {
  for (const table of Object.values(tables)) {
    for (const [former, present] of Object.entries(table)) {
      if (present === name && Object.hasOwn(given, former) && !known.includes(former))
        return former;
    }
  }
  return undefined;
}

/**
 * Data or options with the keys that had another name before under the names of now, so that calls
 * and files written earlier are read as before. What has no former name is returned as it is.
 *
 * @param names which tables of former names apply
 * @throws when a key is given under its former and its present name
 */
export function formerNames<Given>(
  caller: string,
  given: Given,
  ...names: readonly (keyof typeof tables)[]
): Given {
  if (typeof given !== "object" || given === null) return given;
  const table: Readonly<Record<string, string>> = Object.assign(
    {},
    ...names.map((name) => tables[name]),
  );
  const present = (key: string) =>
    Object.hasOwn(given, key) && (given as Record<string, unknown>)[key] !== undefined;
  const former = Object.keys(table).filter(present);
  if (former.length === 0) return given;
  const twice = former.find((key) => present(table[key]));
  if (twice !== undefined) {
    throw new InputError(
      `${caller} requires ${table[twice]} once, got it and ${twice}, its former name; leave ${twice} out`,
    );
  }
  return Object.fromEntries(
    Object.entries(given).map(([key, value]) => [former.includes(key) ? table[key] : key, value]),
  ) as Given;
}
