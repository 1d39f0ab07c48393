// An invented cohort, so that a layout can be compared with the same cohort in the project's own form.
import { createRandom } from "../../../../src/inference/index.js";

export interface Power {
  readonly sphere: number;
  readonly cylinder: number;
  readonly axis: number;
}
export interface InventedChild {
  readonly id: number;
  readonly name: string;
  readonly born: string;
  readonly sex: "F" | "M";
  readonly school: string;
  readonly seen: string;
  /** Null where the instrument gave nothing. */
  readonly reading: { readonly right: Power | null; readonly left: Power | null };
  readonly score: number;
  readonly pupil: number;
  readonly screener: string;
  readonly refer: boolean;
  readonly exam: {
    readonly day: string;
    readonly right: Power;
    readonly left: Power;
    readonly drops: boolean;
    readonly strabismus: boolean;
    readonly acuity: number;
  } | null;
}

const first = [
  "Aino",
  "Bela",
  "Cira",
  "Dov",
  "Elna",
  "Fenn",
  "Gita",
  "Hoda",
  "Ivo",
  "Juna",
  "Kesi",
  "Lorn",
];
const last = [
  "Norvik",
  "Salpeter",
  "Quillon",
  "Marrowby",
  "Tamsin",
  "Vexley",
  "Orrinsen",
  "Pallwick",
];
const schools = ["Oak Hill Primary", "Riverbend School", "Corvale Nursery", "Tarn Academy"];

export function inventedCohort(children: number, seed: number): InventedChild[] {
  const random = createRandom(seed);
  const pick = <Item>(list: readonly Item[]): Item => list[random.integer(list.length)]!;
  const quarter = (value: number) => Math.round(value * 4) / 4;
  const start = Date.UTC(2025, 8, 1) / 86_400_000;
  const day = (at: number) => new Date(at * 86_400_000).toISOString().slice(0, 10);
  const power = (): Power => ({
    sphere: quarter(0.8 + 1.6 * random.normal()),
    cylinder: -Math.abs(quarter(0.7 * random.normal())),
    axis: 1 + random.integer(180),
  });
  return Array.from({ length: children }, (_, at) => {
    const seen = start + random.integer(200);
    const right = power();
    const left = power();
    const other = (one: Power): Power => ({
      sphere: quarter(one.sphere + 0.4 + 0.4 * random.normal()),
      cylinder: -Math.abs(quarter(one.cylinder + 0.2 * random.normal())),
      axis: one.axis,
    });
    return {
      id: 1204 + 7 * at,
      name: `${pick(first)} ${pick(last)}`,
      born: day(seen - 1100 - random.integer(2600)),
      sex: pick(["F", "M"] as const),
      school: pick(schools),
      seen: day(seen),
      reading: {
        right: random.uniform() < 0.05 ? null : right,
        left: random.uniform() < 0.05 ? null : left,
      },
      score: 3 + random.integer(7),
      pupil: 4 + random.integer(30) / 10,
      screener: pick(["Mara Tilde", "Joss Ember", "Wim Harrow"]),
      refer: Math.abs(right.sphere) > 2,
      exam:
        random.uniform() < 0.45
          ? {
              day: day(seen + 5 + random.integer(190)),
              right: other(right),
              left: other(left),
              drops: random.uniform() < 0.8,
              strabismus: random.uniform() < 0.1,
              acuity: pick([6, 9, 12, 18]),
            }
          : null,
    };
  });
}
