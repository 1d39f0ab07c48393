import type { CodedTable } from "../../cohort/index.js";
import { type ColumnFacts, plainNumber } from "./columnFacts.js";
import type { Role } from "./roles.js";

/** The three columns of a refraction, in the order in which every file writes them. */
const triple = ["sphere", "cylinder", "axis"] as const;

/** Whether the numbers of a column could stand in that place of a refraction; codes for nothing apart. */
function fits({ numbers, filled }: ColumnFacts, is: (typeof triple)[number]): boolean {
  if (filled === 0 || numbers.share < 0.4) return false;
  if (is === "axis") {
    // whole degrees, more of them than a score has values
    return numbers.whole === 1 && numbers.low >= 0 && numbers.high <= 180 && numbers.high > 90;
  }
  const signs = is === "sphere" || numbers.negative === 0 || numbers.positive === 0;
  return numbers.whole < 1 && Math.abs(numbers.middle) <= (is === "sphere" ? 15 : 8) && signs;
}

/** The words of a name but for the one that differs, where exactly one does. */
function sameBut(one: ColumnFacts, other: ColumnFacts): boolean {
  const [a, b] = [one.bare.split(" "), other.bare.split(" ")];
  return a.length === b.length && a.filter((word, at) => word !== b[at]).length === 1;
}

/**
 * Sphere, cylinder and axis stand side by side under names of one form. So a name that nothing here knows is
 * known where the others of its three are, its cells are such numbers, and the other eye has the same three.
 */
export function addTriples(list: (Role | null)[], facts: readonly ColumnFacts[]): void {
  const found = facts.flatMap((_, at) => {
    const three = facts.slice(at, at + 3);
    if (three.length < 3 || three.some(({ eye }) => eye !== three[0].eye)) return [];
    const roles = list.slice(at, at + 3);
    const known = roles.filter((role, place) => role === triple[place]).length;
    const open = roles.flatMap((role, place) => (role === null ? [place] : []));
    const whole = known + open.length === 3 && known > 0 && open.length > 0;
    const alike = three.every((one) => one === three[0] || sameBut(one, three[0]));
    if (!whole || !alike || !open.every((place) => fits(three[place], triple[place]))) return [];
    return [{ at, open, eye: three[0].eye, names: three.map(({ bare }) => bare).join() }];
  });
  for (const one of found) {
    const mates = found.filter(({ names }) => names === one.names);
    if (one.eye !== null && new Set(mates.map(({ eye }) => eye)).size < 2) continue;
    for (const place of one.open) list[one.at + place] = triple[place];
  }
}

/**
 * A column that holds sphere plus half the cylinder, row by row, is the stated equivalent, whatever its name: of
 * two spheres of an eye one could be it.
 */
export function addEquivalents(
  list: (Role | null)[],
  facts: readonly ColumnFacts[],
  table: CodedTable,
): void {
  const of = (is: Role) => facts.flatMap((one, at) => (list[at] === is ? [{ ...one, at }] : []));
  const candidates = facts.flatMap((one, at) =>
    (list[at] === null || list[at] === "sphere") &&
    one.numbers.share >= 0.4 &&
    one.numbers.whole < 1
      ? [{ ...one, at }]
      : [],
  );
  for (const candidate of candidates) {
    const mine = ({ eye }: ColumnFacts) => eye === candidate.eye;
    const agree = of("sphere")
      .filter(mine)
      .some((sphere) =>
        of("cylinder")
          .filter(mine)
          .some(
            (cylinder) =>
              sphere.at !== candidate.at && isHalfway(candidate.at, sphere.at, cylinder.at),
          ),
      );
    if (agree) list[candidate.at] = "equivalent";
  }

  /** Whether nearly all rows that hold all three agree to the rounding of one decimal, many of them off the sphere. */
  function isHalfway(stated: number, sphere: number, cylinder: number): boolean {
    const number = (at: number, row: number) => {
      const { codes, labels } = table.columns[at];
      return plainNumber(labels[codes[row]]);
    };
    let [held, agree, apart] = [0, 0, 0];
    for (let row = 0; row < Math.min(table.n, 2000); row++) {
      const [value, s, c] = [number(stated, row), number(sphere, row), number(cylinder, row)];
      if (Number.isNaN(value + s + c) || c === 0) continue;
      held++;
      if (Math.abs(s + c / 2 - value) < 0.13) agree++;
      if (Math.abs(value - s) > 0.13) apart++;
    }
    return held >= 5 && agree > 0.9 * held && apart > 0.3 * held;
  }
}
