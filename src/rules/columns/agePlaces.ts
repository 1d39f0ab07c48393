import type { CompiledRule } from "../compileRule.js";
import type { RuleColumns } from "./ruleColumns.js";

/** Places of an age that is in no single band. */
export const below = 252;
export const above = 253;
export const spanning = 254;
export const ageUnknown = 255;

/** Where each child's age lies: the position of its band, or one of the codes above. */
interface AgePlaces {
  readonly place: Uint8Array;
  /** First and last place of whole-year children who span an edge, by child. */
  readonly spans: ReadonlyMap<number, readonly [number, number]>;
  /** Children within a month of an edge, their months being known. */
  readonly nearEdge: number;
}

/** Null where the rule has no bands and no age is asked for. */
export function agePlaces({ bands, anyAge }: CompiledRule, columns: RuleColumns): AgePlaces | null {
  if (anyAge) return null;
  const { n, ageMonths, ageYears } = columns;
  const edges = bands.flatMap(({ from, to }) => [from, to]).filter((edge) => Number.isFinite(edge));
  const months = Math.max(...edges) + 2;
  const places = Uint8Array.from({ length: months }, (_, month) => placeOf(month));
  const near = Uint8Array.from({ length: months }, (_, month) =>
    Number(edges.some((edge) => edge > 0 && (month === edge || month === edge - 1))),
  );
  const place = new Uint8Array(n);
  const spans = new Map<number, readonly [number, number]>();
  let nearEdge = 0;
  for (let child = 0; child < n; child++) {
    const age = ageMonths === undefined ? Number.NaN : ageMonths[child];
    if (age >= 0) {
      const month = Math.min(Math.floor(age), months - 1);
      place[child] = places[month];
      nearEdge += near[month];
      continue;
    }
    const years = ageYears === undefined ? Number.NaN : Math.floor(ageYears[child]);
    if (!(years >= 0)) {
      place[child] = ageUnknown;
      continue;
    }
    const first = places[Math.min(years * 12, months - 1)];
    const last = places[Math.min(years * 12 + 11, months - 1)];
    place[child] = first === last ? first : spanning;
    if (first !== last) spans.set(child, [first, last]);
  }
  return { place, spans, nearEdge };

  function placeOf(month: number): number {
    const band = bands.findIndex(({ from, to }) => month >= from && month < to);
    if (band >= 0) return band;
    return month < bands[0].from ? below : above;
  }
}
