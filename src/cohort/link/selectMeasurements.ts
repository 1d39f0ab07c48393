import { didYouMean, InputError } from "../../results/index.js";
import type { Coded, Findings, OwnColumn, Readings } from "../types.js";
import { codeWanted } from "./codeWanted.js";
import type { ReadingSelection } from "./selectReadings.js";

/** Which measurements of a file are meant; what is not said is not chosen by. */
export interface MeasurementSelection extends ReadingSelection {
  /** How the findings were made. */
  readonly method?: "retinoscopy" | "autorefraction" | "subjective" | "unknown";
  readonly attempt?: "first" | "final";
  /** The number of a repeat, 1 for the first, or several. */
  readonly repeat?: number | readonly number[];
  /** Days of the study, from and to, both included: one visit of several. */
  readonly days?: readonly [number, number];
  readonly site?: string;
  /** By the user's own columns: the words, or the numbers, that are meant. */
  readonly own?: Readonly<Record<string, string | number | readonly (string | number)[]>>;
}

const caller = "a selection of measurements";
/** What is never pooled by silence. */
const unlike = {
  readings: ["instrument", "cycloplegia", "correction"],
  findings: ["cycloplegia", "method"],
} as const;
const known: ReadonlySet<string> = new Set([
  ...["instrument", "cycloplegia", "correction", "method", "attempt", "repeat", "days", "site"],
  "own",
]);

/**
 * A yes for every row of the selection.
 *
 * @param name which of the selections, for messages
 * @throws InputError for a choice that the file cannot answer, and for unlike measurements that are left
 */
export function selectMeasurements(
  data: Readings | Findings,
  selection: MeasurementSelection,
  name: string,
): Uint8Array {
  const chosen = new Uint8Array(data.n).fill(1);
  for (const key of Object.keys(selection)) {
    if (!known.has(key)) {
      throw new InputError(
        `${caller} requires known keys in ${name}, got "${key}"; ${didYouMean(key, [...known])}`,
      );
    }
  }
  const drop = (holds: (row: number) => boolean) => {
    for (let row = 0; row < data.n; row++) if (!holds(row)) chosen[row] = 0;
  };
  for (const key of [
    "instrument",
    "cycloplegia",
    "correction",
    "method",
    "attempt",
    "site",
  ] as const) {
    const wanted = selection[key];
    if (wanted === undefined) continue;
    const column = codedOf(data, key);
    const code = codeWanted(caller, `${key} of ${name}`, key, column, wanted, chosen);
    drop((row) => column.codes[row] === code);
  }
  const { repeat, days, own = {} } = selection;
  if (repeat !== undefined) {
    const values = "repeat" in data ? data.repeat : null;
    if (values === null) throw nothingOf("repeat");
    const numbers = new Set(typeof repeat === "number" ? [repeat] : repeat);
    drop((row) => numbers.has(values[row]));
  }
  if (days !== undefined) {
    const { day } = data;
    if (day === null) throw nothingOf("day");
    drop((row) => day[row] >= days[0] && day[row] <= days[1]);
  }
  for (const [label, wanted] of Object.entries(own)) drop(ownHolds(data.own, label, wanted, name));
  requireAlike(data, chosen, name);
  return chosen;

  function codedOf(source: Readings | Findings, key: string): Coded {
    const column = (source as unknown as Record<string, Coded | null | undefined>)[key];
    if (column == null) throw nothingOf(key);
    return column;
  }

  function nothingOf(key: string): InputError {
    return new InputError(
      `${caller} requires ${data.kind} with ${key} where ${name} is chosen by it, got ${data.kind} without`,
    );
  }
}

function ownHolds(
  own: readonly OwnColumn[] = [],
  label: string,
  wanted: string | number | readonly (string | number)[],
  name: string,
): (row: number) => boolean {
  const column = own.find((one) => one.label === label);
  if (column === undefined) {
    throw new InputError(
      `${caller} requires own columns in ${name}, got "${label}"; ${didYouMean(
        label,
        own.map((one) => one.label),
      )}`,
    );
  }
  const list = typeof wanted === "object" ? wanted : [wanted];
  if (column.type === "number") {
    const numbers = new Set(list.map(Number));
    return (row) => numbers.has(column.values[row]);
  }
  const words = new Set(list.map(String));
  const accepted = column.values.labels.map((word) => words.has(word));
  return (row) => accepted[column.values.codes[row]];
}

/** Unlike measurements are never pooled by silence. */
function requireAlike(data: Readings | Findings, chosen: Uint8Array, name: string): void {
  for (const key of unlike[data.kind]) {
    const { codes, labels } = (data as unknown as Record<string, Coded>)[key];
    const present = new Set<number>();
    for (let row = 0; row < data.n; row++) if (chosen[row] === 1) present.add(codes[row]);
    if (present.size < 2) continue;
    const words = [...present].sort((a, b) => a - b).map((code) => labels[code]);
    throw new InputError(
      `${caller} requires ${key} in ${name} where its measurements differ in it, got ${words.join(", ")}`,
    );
  }
}
