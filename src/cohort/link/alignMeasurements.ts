import { type ForAudience, InputError, jointAudience } from "../../results/index.js";
import type { EquivalentSource, Eye, Findings, MeasurementStatus, Readings } from "../types.js";
import { measurementStatuses } from "../types.js";
import { atVertexPlane } from "./atVertexPlane.js";
import { type Quantity, quantityOf, usualEquivalent } from "./eyeQuantity.js";
import { rowBefore } from "./rowBefore.js";
import { type MeasurementSelection, selectMeasurements } from "./selectMeasurements.js";

/** One column of aligned measurements: a file, and which of its measurements are meant. */
export interface MeasurementSource {
  readonly data: Readings | Findings;
  readonly select?: MeasurementSelection;
  /** Which of several measurements of an eye counts, by day, repeat and line; the first by default. */
  readonly which?: "first" | "last";
  /** Where M comes from; by default computed, or stated where no row has sphere and cylinder. */
  readonly equivalent?: EquivalentSource;
}

export interface AlignOptions {
  readonly eyes: "right" | "left" | "both";
  readonly quantity?: Quantity;
  /** The plane that all are brought to, in millimetres; needed where they are known and differ. */
  readonly vertexMm?: number;
}

/** Several measurements of the same eyes as columns, one row an eye that any of them knows. */
export interface AlignedMeasurements extends ForAudience {
  readonly kind: "aligned-measurements";
  /** Eyes. */
  readonly n: number;
  readonly children: number;
  readonly eyes: AlignOptions["eyes"];
  readonly quantity: Quantity;
  /** The value of each source in each row, NaN where it has none. */
  readonly values: { readonly [name: string]: Float64Array };
  /** Number of the child of each row; no identifier. */
  readonly subjects: Int32Array;
  readonly eye: readonly Eye[];
  /** All measurements of each source, one row a measurement, with their eye and child: for `repeatability`. */
  readonly repeats: {
    readonly [name: string]: {
      readonly values: Float64Array;
      readonly units: readonly Eye[];
      readonly subjects: Int32Array;
    };
  };
  /** What became of each row by source: its status, "incomplete", or "none" where it has no row. */
  readonly outcomes: {
    readonly [name: string]: { readonly [Outcome in AlignedOutcome]: number };
  };
}

/** What became of one eye in one source. */
export type AlignedOutcome = MeasurementStatus | "incomplete" | "none";

/**
 * Lays several measurements of the same eyes side by side: instruments, visits, examiners, a finding. One row
 * is an eye that any of them knows; nobody is dropped, and `outcomes` counts what became of each row in each
 * source. The columns go to `compareInstruments`, all repeats of a source to `repeatability`.
 *
 * Powers are in dioptres.
 *
 * @param sources readings or findings by a name of their own, such as "handheld"
 * @throws InputError where a selection leaves unlike measurements, and for planes that differ without `vertexMm`
 * @example
 * const eye = { subject: "a", eye: "OD", sphere: -1, cylinder: 0, axis: 0 };
 * const [readings, findings] = [await readReadings([eye]), await readFindings([{ ...eye, sphere: -1.5 }])];
 * alignMeasurements({ dry: { data: readings }, exam: { data: findings } }, { eyes: "both" }).values.exam[0] // => -1.5
 */
export function alignMeasurements(
  sources: { readonly [name: string]: MeasurementSource },
  options: AlignOptions,
): AlignedMeasurements {
  const { eyes, quantity = "M" } = options;
  if (eyes !== "right" && eyes !== "left" && eyes !== "both") {
    throw new InputError(
      `alignMeasurements requires eyes "right", "left" or "both", got "${eyes}"`,
    );
  }
  const names = Object.keys(sources);
  if (names.length === 0) throw new InputError("alignMeasurements requires a source, got none");
  requireOnePlane(sources, options.vertexMm);
  const rowOf = new Map<string, number>();
  const children = new Map<string, number>();
  const subjects: number[] = [];
  const eye: Eye[] = [];
  const chosen = names.map((name) => {
    const { data, select = {}, which = "first", equivalent } = sources[name];
    const selected = selectMeasurements(data, select, name);
    const source = equivalent ?? (quantity === "M" ? usualEquivalent(data) : "computed");
    const values = quantityOf(atPlane(data, options.vertexMm, source), quantity, source);
    const repeat = data.kind === "readings" ? data.repeat : null;
    const row = new Map<number, number>();
    const repeats = { values: [] as number[], units: [] as Eye[], subjects: [] as number[] };
    for (let at = 0; at < data.n; at++) {
      const side: Eye = data.eye.codes[at] === 0 ? "right" : "left";
      if (selected[at] === 0 || (eyes !== "both" && side !== eyes)) continue;
      const place = placeOf(data.subject.labels[data.subject.codes[at]], side);
      const known = row.get(place);
      const last = which === "last";
      if (known === undefined || rowBefore(at, known, [data.day, repeat], data.line, last)) {
        row.set(place, at);
      }
      if (outcomeOf(data, at, values) !== "measured") continue;
      repeats.values.push(values[at]);
      repeats.units.push(side);
      repeats.subjects.push(subjects[place]);
    }
    return { name, data, values, row, repeats };
  });
  const n = subjects.length;
  const all = Array.from({ length: n }, (_, place) => place);
  const outcomes = chosen.map(({ name, data, values, row }) => {
    const counts = Object.fromEntries(
      [...measurementStatuses, "incomplete", "none"].map((one) => [one, 0]),
    ) as { [Outcome in AlignedOutcome]: number };
    for (const place of all) {
      const at = row.get(place);
      counts[at === undefined ? "none" : outcomeOf(data, at, values)]++;
    }
    return [name, counts] as const;
  });
  return {
    kind: "aligned-measurements",
    ...jointAudience(...Object.values(sources).map(({ data }) => data)),
    n,
    children: children.size,
    eyes,
    quantity,
    values: Object.fromEntries(
      chosen.map(({ name, data, values, row }) => [
        name,
        Float64Array.from(all, (place) => {
          const at = row.get(place);
          const has = at !== undefined && outcomeOf(data, at, values) === "measured";
          return has ? values[at] : Number.NaN;
        }),
      ]),
    ),
    subjects: Int32Array.from(subjects),
    eye,
    repeats: Object.fromEntries(
      chosen.map(({ name, repeats }) => [
        name,
        {
          values: Float64Array.from(repeats.values),
          units: repeats.units,
          subjects: Int32Array.from(repeats.subjects),
        },
      ]),
    ),
    outcomes: Object.fromEntries(outcomes),
  };

  /** The row of an eye, made where it is new. */
  function placeOf(subject: string, side: Eye): number {
    const child = children.get(subject) ?? children.size;
    children.set(subject, child);
    const key = `${side} ${child}`;
    let place = rowOf.get(key);
    if (place === undefined) {
      place = subjects.push(child) - 1;
      eye.push(side);
      rowOf.set(key, place);
    }
    return place;
  }
}

function outcomeOf(
  data: Readings | Findings,
  row: number,
  values: Float64Array,
): Exclude<AlignedOutcome, "none"> {
  const status = data.status.labels[data.status.codes[row]];
  return status === "measured" && Number.isNaN(values[row]) ? "incomplete" : status;
}

function requireOnePlane(
  sources: { readonly [name: string]: MeasurementSource },
  vertexMm: number | undefined,
): void {
  const planes = new Set(
    Object.values(sources).flatMap(({ data }) => (data.vertexMm === null ? [] : [data.vertexMm])),
  );
  if (vertexMm !== undefined || planes.size < 2) return;
  throw new InputError(
    `alignMeasurements requires vertexMm where the vertex planes differ, got planes at ${[...planes].join(", ")} mm; say the one to compare at`,
  );
}

function atPlane(
  data: Readings | Findings,
  vertexMm: number | undefined,
  source: EquivalentSource,
): Readings | Findings {
  if (vertexMm === undefined || data.vertexMm === null || data.vertexMm === vertexMm) return data;
  if (source === "stated") {
    throw new InputError(
      `alignMeasurements requires one vertex plane where M is as stated, got ${data.vertexMm} and ${vertexMm} mm`,
    );
  }
  return atVertexPlane(data, vertexMm);
}
