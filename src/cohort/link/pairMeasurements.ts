import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import { withoutNoise } from "../../rows/index.js";
import type { EquivalentSource, Eye, Findings, ParticipantFlow, Readings } from "../types.js";
import { atVertexPlane } from "./atVertexPlane.js";
import { type Quantity, quantityOf, usualEquivalent } from "./eyeQuantity.js";
import { type FlowStep, flowOf, unknownEye } from "./flow.js";
import { atRows, type OwnValues } from "./ownValues.js";
import { rowBefore } from "./rowBefore.js";
import { type MeasurementSelection, selectMeasurements } from "./selectMeasurements.js";

/** How far an eye came on the way to a pair of measurements, in the order of the way. */
export const pairOutcomes = [
  "no-first",
  "first-not-attempted",
  "first-unreadable",
  "first-over-range",
  "first-under-range",
  "first-incomplete",
  "no-second",
  "outside-window",
  "second-not-attempted",
  "second-unreadable",
  "second-over-range",
  "second-under-range",
  "second-incomplete",
  "paired",
] as const;
export type PairOutcome = (typeof pairOutcomes)[number];

/** Which two measurements are paired, of which eyes, and how. */
export interface PairMeasurementsOptions {
  /** Which measurements of the first file are meant; `name` is theirs in words. */
  readonly first?: MeasurementSelection & { readonly name?: string };
  readonly second?: MeasurementSelection & { readonly name?: string };
  /** "right-with-left" pairs the first's right eye with the second's left eye of the same child. */
  readonly eyes: "right" | "left" | "both" | "right-with-left";
  readonly quantity?: Quantity;
  /**
   * Which of several measurements of an eye counts: the first (default) or the last by day, repeat and line; of
   * the second also the "nearest" in days to the first.
   */
  readonly which?: {
    readonly first?: "first" | "last";
    readonly second?: "first" | "last" | "nearest";
  };
  /** Days from the first to the second, from and to, both included; needs days in both files. */
  readonly daysBetween?: readonly [number, number];
  /** Where M comes from; by default computed, or stated where no row has sphere and cylinder. */
  readonly equivalent?: { readonly first?: EquivalentSource; readonly second?: EquivalentSource };
}

/** Two measurements of each eye as columns; a difference is first minus second. */
export interface MeasurementPairs extends ForAudience {
  readonly kind: "measurement-pairs";
  /** Pairs. */
  readonly n: number;
  readonly children: number;
  readonly eyes: PairMeasurementsOptions["eyes"];
  readonly quantity: Quantity;
  readonly names: { readonly first: string; readonly second: string };
  /** The first measurement, in dioptres. */
  readonly test: Float64Array;
  /** The second. */
  readonly reference: Float64Array;
  /** Number of the child of each pair, the same for its two eyes; no identifier. */
  readonly subjects: Int32Array;
  /** The eye of the first measurement. */
  readonly eye: readonly Eye[];
  /** Days from the first to the second; NaN where one is unknown, null where a file has none. */
  readonly days: Float64Array | null;
  /** J45 of left eyes has changed sign, as it must where right and left are compared. */
  readonly leftMirrored: boolean;
  readonly own?: {
    readonly first: Readonly<Record<string, OwnValues>>;
    readonly second: Readonly<Record<string, OwnValues>>;
  };
  /** Counts of outcomes, so that they add up. */
  readonly flow: ParticipantFlow;
  readonly excluded: readonly {
    readonly reason: PairOutcome;
    readonly children: number;
    readonly eyes: number;
  }[];
}

/**
 * Pairs two measurements of the same eyes, whatever they are: two instruments, visits or examiners, dry and
 * wet, right and left. Both files may be one; `first` and `second` choose the rows. Nobody is
 * dropped: every eye that either selection knows has one outcome, and the flow counts them.
 *
 * The result goes into every function of agreement as it is, test minus reference being first minus
 * second. Sphere and cylinder are brought to the second's vertex plane where both planes are known. Left
 * eyes are mirrored (J45 changes sign) in "right-with-left" only.
 *
 * Powers are in dioptres, days whole numbers.
 *
 * @throws InputError where a selection leaves unlike measurements, both selections share rows, or a window
 *   of days is asked of files without days
 * @example
 * const eye = { subject: "a", eye: "OD", cylinder: 0, axis: 0 };
 * const readings = await readReadings([{ ...eye, sphere: -1, instrument: "x" }, { ...eye, sphere: -1.5, instrument: "y" }]);
 * pairMeasurements(readings, readings, { first: { instrument: "x" }, second: { instrument: "y" }, eyes: "both" }).test[0] // => -1
 */
export function pairMeasurements(
  first: Readings | Findings,
  second: Readings | Findings,
  options: PairMeasurementsOptions,
): MeasurementPairs {
  const { quantity = "M", daysBetween, which = {} } = options;
  const { name: firstName, ...firstSelection } = options.first ?? {};
  const { name: secondName, ...secondSelection } = options.second ?? {};
  const sides = sidesOf(options.eyes);
  const crossed = options.eyes === "right-with-left";
  const chosen = {
    first: selectMeasurements(first, firstSelection, "first"),
    second: selectMeasurements(second, secondSelection, "second"),
  };
  if (first === second && !crossed) requireApart(chosen.first, chosen.second);
  const needsDays = daysBetween !== undefined || which.second === "nearest";
  if (needsDays && (first.day === null || second.day === null)) {
    throw new InputError(
      "pairMeasurements requires days in both files for a window of days or the nearest, got none",
    );
  }
  const sourceOfFirst = sourceOf(first, quantity, options.equivalent?.first);
  const values = {
    first: quantityOf(atPlaneOf(first, second, sourceOfFirst), quantity, sourceOfFirst),
    second: quantityOf(second, quantity, sourceOf(second, quantity, options.equivalent?.second)),
  };
  const { n, childOfFirst, childOfSecond } = childrenOfBoth(first, second, chosen);
  const firstRow = firstRows();
  const found = secondRows();
  const leftMirrored = crossed && quantity === "J45";
  const test: number[] = [];
  const reference: number[] = [];
  const subjects: number[] = [];
  const eye: Eye[] = [];
  const rows: { first: number[]; second: number[] } = { first: [], second: [] };
  const outcome = { right: new Uint8Array(n), left: new Uint8Array(n) };
  outcome.right.fill(unknownEye);
  outcome.left.fill(unknownEye);
  for (let child = 0; child < n; child++) {
    for (const side of sides) {
      const other = crossed ? "left" : side;
      const [one, two] = [firstRow[side][child], found.row[other][child]];
      const refused = found.refused[other][child] === 1;
      if (one < 0 && two < 0 && !refused) continue;
      const reached = outcomeOf(one, two, refused);
      outcome[side][child] = pairOutcomes.indexOf(reached);
      if (reached !== "paired") continue;
      test.push(values.first[one]);
      reference.push(leftMirrored ? withoutNoise(-values.second[two]) : values.second[two]);
      subjects.push(child);
      eye.push(side);
      rows.first.push(one);
      rows.second.push(two);
    }
  }
  const seen = jointAudience(first, second);
  const flow = { ...flowOf(pairOutcomes, steps, outcome), ...seen };
  const hasOwn = (first.own ?? []).length + (second.own ?? []).length > 0;
  const days = (at: number) => second.day![rows.second[at]] - first.day![rows.first[at]];
  return {
    kind: "measurement-pairs",
    ...seen,
    n: test.length,
    children: new Set(subjects).size,
    eyes: options.eyes,
    quantity,
    names: {
      first: firstName ?? wordsOf(first, firstSelection, crossed ? "right eye" : "first"),
      second: secondName ?? wordsOf(second, secondSelection, crossed ? "left eye" : "second"),
    },
    test: Float64Array.from(test),
    reference: Float64Array.from(reference),
    subjects: Int32Array.from(subjects),
    eye,
    days:
      first.day === null || second.day === null
        ? null
        : Float64Array.from(test, (_, at) => days(at)),
    leftMirrored,
    ...(hasOwn
      ? { own: { first: atRows(first.own, rows.first), second: atRows(second.own, rows.second) } }
      : {}),
    flow,
    excluded: pairOutcomes.flatMap((reason) => {
      const box = flow.boxes.find(({ id }) => id === reason);
      return reason === "paired" || box === undefined || box.eyes === 0
        ? []
        : [{ reason, children: box.children, eyes: box.eyes }];
    }),
  };

  function outcomeOf(one: number, two: number, refused: boolean): PairOutcome {
    if (one < 0) return "no-first";
    const before = partOutcome(first, one, values.first[one]);
    if (before !== null) return `first-${before}`;
    if (two < 0) return refused ? "outside-window" : "no-second";
    const after = partOutcome(second, two, values.second[two]);
    return after === null ? "paired" : `second-${after}`;
  }

  function firstRows() {
    const row = { right: new Int32Array(n).fill(-1), left: new Int32Array(n).fill(-1) };
    for (let at = 0; at < first.n; at++) {
      if (chosen.first[at] === 0) continue;
      const side = row[eyeOf(first, at)];
      const child = childOfFirst[first.subject.codes[at]];
      const last = which.first === "last";
      if (side[child] < 0 || isBefore(first, at, side[child], last)) side[child] = at;
    }
    return row;
  }

  function secondRows() {
    const row = { right: new Int32Array(n).fill(-1), left: new Int32Array(n).fill(-1) };
    const refused = { right: new Uint8Array(n), left: new Uint8Array(n) };
    for (let at = 0; at < second.n; at++) {
      if (chosen.second[at] === 0) continue;
      const side = eyeOf(second, at);
      const child = childOfSecond[second.subject.codes[at]];
      const partner = firstRow[crossed ? "right" : side][child];
      const days = daysFrom(partner, at);
      if (daysBetween !== undefined && partner >= 0) {
        // a missing day cannot be shown to lie within the window
        if (!(days >= daysBetween[0] && days <= daysBetween[1])) {
          refused[side][child] = 1;
          continue;
        }
      }
      const current = row[side][child];
      if (current < 0 || wins(at, current, partner)) row[side][child] = at;
    }
    return { row, refused };
  }

  function wins(at: number, other: number, partner: number): boolean {
    if (which.second === "nearest" && partner >= 0) {
      const [mine, its] = [at, other].map((row) => Math.abs(daysFrom(partner, row)));
      if (Number.isNaN(mine) !== Number.isNaN(its)) return Number.isNaN(its);
      if (mine !== its && !Number.isNaN(mine)) return mine < its;
    }
    return isBefore(second, at, other, which.second === "last");
  }

  function daysFrom(partner: number, at: number): number {
    if (partner < 0 || first.day === null || second.day === null) return Number.NaN;
    return second.day[at] - first.day[partner];
  }
}

function sidesOf(eyes: PairMeasurementsOptions["eyes"]): readonly Eye[] {
  if (eyes === "both") return ["right", "left"];
  if (eyes === "right" || eyes === "left") return [eyes];
  if (eyes === "right-with-left") return ["right"];
  throw new InputError(
    `pairMeasurements requires eyes "right", "left", "both" or "right-with-left", got "${eyes}"`,
  );
}

function eyeOf({ eye }: Readings | Findings, row: number): Eye {
  return eye.codes[row] === 0 ? "right" : "left";
}

function isBefore(data: Readings | Findings, row: number, other: number, last: boolean): boolean {
  const repeat = data.kind === "readings" ? data.repeat : null;
  return rowBefore(row, other, [data.day, repeat], data.line, last);
}

/** What stands between a row and a value; null where it has one. */
function partOutcome(data: Readings | Findings, row: number, value: number) {
  const status = data.status.labels[data.status.codes[row]];
  if (status !== "measured") return status;
  return Number.isNaN(value) ? "incomplete" : null;
}

function requireApart(first: Uint8Array, second: Uint8Array): void {
  let both = 0;
  for (let row = 0; row < first.length; row++) if (first[row] === 1 && second[row] === 1) both++;
  if (both === 0) return;
  throw new InputError(
    `pairMeasurements requires two selections without a common row, got ${both} rows in both; ` +
      "choose first and second by instrument, cycloplegia, days or columns of your own",
  );
}

/** J0 and J45 are always of sphere, cylinder and axis. */
function sourceOf(
  data: Readings | Findings,
  quantity: Quantity,
  asked: EquivalentSource | undefined,
): EquivalentSource {
  return asked ?? (quantity === "M" ? usualEquivalent(data) : "computed");
}

/** The first at the second's plane, where both are known; what is stated has no other plane. */
function atPlaneOf(
  first: Readings | Findings,
  second: Readings | Findings,
  source: EquivalentSource,
): Readings | Findings {
  if (first.vertexMm === null || second.vertexMm === null) return first;
  if (source === "stated" && first.vertexMm !== second.vertexMm) {
    throw new InputError(
      `pairMeasurements requires one vertex plane where M of the first is as stated, got ${first.vertexMm} and ${second.vertexMm} mm`,
    );
  }
  return atVertexPlane(first, second.vertexMm);
}

/** Children by their subjects in either selection, those of the first file first. */
function childrenOfBoth(
  first: Readings | Findings,
  second: Readings | Findings,
  chosen: { readonly first: Uint8Array; readonly second: Uint8Array },
) {
  const numbers = new Map<string, number>();
  const number = (data: Readings | Findings, selected: Uint8Array): Int32Array => {
    const of = new Int32Array(data.subject.labels.length).fill(-1);
    for (let row = 0; row < data.n; row++) {
      const code = data.subject.codes[row];
      if (selected[row] === 0 || of[code] >= 0) continue;
      const label = data.subject.labels[code];
      const child = numbers.get(label) ?? numbers.size;
      numbers.set(label, child);
      of[code] = child;
    }
    return of;
  };
  const childOfFirst = number(first, chosen.first);
  const childOfSecond = number(second, chosen.second);
  return { n: numbers.size, childOfFirst, childOfSecond };
}

/** What a selection is called where nobody named it. */
function wordsOf(
  data: Readings | Findings,
  { instrument, cycloplegia, method }: MeasurementSelection,
  otherwise: string,
): string {
  if (instrument !== undefined) return instrument;
  if (cycloplegia !== undefined)
    return cycloplegia === "none" ? "dry" : `cycloplegia ${cycloplegia}`;
  return method ?? (data.kind === "findings" ? "finding" : otherwise);
}

const step = (
  id: string,
  label: string,
  partOf: string | null,
  from: PairOutcome,
  role: FlowStep<PairOutcome>["role"],
): FlowStep<PairOutcome> => ({ id, label, partOf, from, role });

const excluded = (id: PairOutcome, label: string, partOf: string) =>
  step(id, label, partOf, id, "excluded");

const steps: readonly FlowStep<PairOutcome>[] = [
  step("all", "In either selection", null, "no-first", "total"),
  excluded("no-first", "Without the first measurement", "all"),
  step(
    "with-first",
    "With the first measurement or an attempt",
    "all",
    "first-not-attempted",
    "kept",
  ),
  excluded("first-not-attempted", "First not attempted", "with-first"),
  excluded("first-unreadable", "First unreadable", "with-first"),
  excluded("first-over-range", "First above the instrument's range", "with-first"),
  excluded("first-under-range", "First below the instrument's range", "with-first"),
  excluded("first-incomplete", "First incomplete", "with-first"),
  step("first-usable", "With a usable first measurement", "with-first", "no-second", "kept"),
  excluded("no-second", "Without the second measurement", "first-usable"),
  excluded("outside-window", "Second outside the window of days", "first-usable"),
  step("with-second", "With the second, too", "first-usable", "second-not-attempted", "kept"),
  excluded("second-not-attempted", "Second not attempted", "with-second"),
  excluded("second-unreadable", "Second unreadable", "with-second"),
  excluded("second-over-range", "Second above the instrument's range", "with-second"),
  excluded("second-under-range", "Second below the instrument's range", "with-second"),
  excluded("second-incomplete", "Second incomplete", "with-second"),
  step("paired", "Paired", "with-second", "paired", "kept"),
];
