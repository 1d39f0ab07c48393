// The invented cohort of the third part of the corpus, and the columns its layouts are made of. Written by
// somebody who had not read the detector; like the second half it is only reported on.
import { createRandom } from "../../../../src/inference/index.js";
import type { ColumnTruth } from "../layout.js";

export type Side = "right" | "left";
export type Power = readonly [sphere: number, cylinder: number, axis: number];
export interface Child {
  readonly id: number;
  readonly given: string;
  readonly family: string;
  readonly born: string;
  readonly seen: string;
  readonly examined: string;
  readonly months: number;
  readonly girl: boolean;
  readonly place: number;
  readonly person: number;
  readonly screened: boolean;
  readonly inClinic: boolean;
  readonly refer: boolean;
  readonly drops: boolean;
  readonly squint: boolean;
  readonly acuity: number;
  readonly pupil: number;
  readonly distance: number;
  readonly score: number;
  readonly reading: Readonly<Record<Side, Power | null>>;
  readonly second: Readonly<Record<Side, Power>>;
  readonly finding: Readonly<Record<Side, Power>>;
  readonly noise: number;
}
export type Cell = (child: Child, eye: Side, row: number) => string;
export type Column = readonly [name: string, truth: ColumnTruth, cell: Cell];

const given = "Ansa Borin Cael Dessa Edrik Fio Galen Hesper Ilka Jarro Kendra Lio".split(" ");
const family =
  "Abramsohn Brightwater Cairnsby Dunmarrow Estevalo Fallowdene Greycott Hollinswick".split(" ");
export const places = ["St Aldric's", "Lower Mere Infants", "Penwithy Juniors", "Northgate 2"];
export const people = ["T. Aldersey", "R. Okonta", "M. Vasquelle"];

export const iso = (day: number) => new Date(day * 86_400_000).toISOString().slice(0, 10);
const quarter = (value: number) => Math.round(value * 4) / 4 + 0;

export function thirdCohort(children = 48, seed = 77_031): Child[] {
  const random = createRandom(seed);
  const first = Date.UTC(2024, 8, 9) / 86_400_000;
  const power = (): Power => [
    quarter(1 + 1.8 * random.normal()),
    -Math.abs(quarter(0.9 * random.normal())),
    5 * (1 + random.integer(36)),
  ];
  const near = ([sphere, cylinder, axis]: Power): Power => [
    quarter(sphere + 0.3 + 0.5 * random.normal()),
    -Math.abs(quarter(cylinder + 0.25 * random.normal())),
    axis,
  ];
  return Array.from({ length: children }, (_, at) => {
    const seen = first + random.integer(240);
    const old = 1200 + random.integer(1900);
    const right = power();
    const left = power();
    return {
      id: 317 + 13 * at,
      given: given[random.integer(given.length)]!,
      family: family[random.integer(family.length)]!,
      born: iso(seen - old),
      seen: iso(seen),
      examined: iso(seen + 12 + random.integer(120)),
      months: Math.floor((old - 1) / 30.4375),
      girl: random.uniform() < 0.5,
      place: random.integer(places.length),
      person: random.integer(people.length),
      screened: random.uniform() < 0.92,
      inClinic: random.uniform() < 0.55,
      refer: right[0] > 2 || left[0] > 2,
      drops: random.uniform() < 0.85,
      squint: random.uniform() < 0.12,
      acuity: [6, 7.5, 9, 12, 18, 24][random.integer(6)]!,
      pupil: 3.5 + random.integer(35) / 10,
      distance: 46 + random.integer(14),
      score: 1 + random.integer(10),
      reading: {
        right: random.uniform() < 0.08 ? null : right,
        left: random.uniform() < 0.08 ? null : left,
      },
      second: { right: near(right), left: near(left) },
      finding: { right: near(right), left: near(left) },
      noise: random.uniform(),
    };
  });
}

const split = (date: string) => date.split("-").map(Number) as [number, number, number];
const two = (value: number) => String(value).padStart(2, "0");
const shortMonths = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
const longMonths =
  "January February March April May June July August September October November December".split(
    " ",
  );
/** Each way of writing a date, and what the manifest calls it. */
export const dates = {
  iso: ["iso", (date: string) => date],
  isoTime: ["iso", (date: string) => `${date} 10:${two(split(date)[2])}:00`],
  isoZone: ["iso", (date: string) => `${date}T08:${two(split(date)[2])}:21.000Z`],
  slashes: ["day-first", (date: string) => split(date).reverse().map(two).join("/")],
  dots: ["day-first", (date: string) => `${split(date)[2]}.${split(date)[1]}.${split(date)[0]}`],
  dashes: ["day-first", (date: string) => split(date).reverse().map(two).join("-")],
  dayTime: ["day-first", (date: string) => `${split(date).reverse().map(two).join("/")} 14:05`],
  american: [
    "month-first",
    (date: string) => `${two(split(date)[1])}/${two(split(date)[2])}/${split(date)[0]}`,
  ],
  americanTime: [
    "month-first",
    (date: string) => `${split(date)[1]}/${split(date)[2]}/${split(date)[0]} 9:41 AM`,
  ],
  shortName: [
    "month-name",
    (date: string) => `${split(date)[2]} ${shortMonths[split(date)[1] - 1]} ${split(date)[0]}`,
  ],
  longName: [
    "month-name",
    (date: string) => `${longMonths[split(date)[1] - 1]} ${split(date)[2]}, ${split(date)[0]}`,
  ],
  compact: ["compact", (date: string) => date.replaceAll("-", "")],
  serial: ["serial", (date: string) => String(Date.parse(date) / 86_400_000 + 25_569)],
} as const satisfies Record<string, readonly [string, (date: string) => string]>;

export const column = (name: string, is: string, cell: Cell, more: object = {}): Column => [
  name,
  { is, ...more },
  cell,
];
export const dated = (
  name: string,
  which: "born" | "seen" | "examined",
  form: keyof typeof dates,
  is = which === "born" ? "birth-date" : "date",
): Column => [name, { is, order: dates[form][0] }, (child) => dates[form][1](child[which])];

const signed = (value: number) => `${value < 0 ? "-" : "+"}${Math.abs(value).toFixed(2)}`;
export const numbers = {
  signed,
  plain: (value: number) => value.toFixed(2),
  short: (value: number) => String(value),
  comma: (value: number) => value.toFixed(2).replace(".", ","),
  signedComma: (value: number) => signed(value).replace(".", ","),
};
export const toPlus = ([sphere, cylinder, axis]: Power): Power => [
  sphere + cylinder,
  -cylinder + 0,
  axis > 90 ? axis - 90 : axis + 90,
];
export interface PowerOptions {
  readonly of?: "reading" | "second" | "finding";
  readonly write?: (value: number) => string;
  readonly mark?: string;
  readonly plus?: boolean;
  readonly more?: object;
}
/** Three columns of one eye, or of the row's eye where `eye` is null. */
export function powers(
  names: readonly string[],
  eye: Side | null,
  { of = "reading", write = numbers.plain, mark = "", plus = false, more }: PowerOptions = {},
): Column[] {
  return ["sphere", "cylinder", "axis"].map((is, at) => [
    names[at]!,
    { is, ...(eye === null ? {} : { eye }), ...more },
    (child, rowEye) => {
      const power = child[of][eye ?? rowEye];
      if (power === null) return mark;
      const value = (plus ? toPlus(power) : power)[at]!;
      return is === "axis" ? String(value) : write(value);
    },
  ]);
}
export const both = (
  right: readonly string[],
  left: readonly string[],
  options?: PowerOptions,
): Column[] => [...powers(right, "right", options), ...powers(left, "left", options)];
/** Clinic notation of one eye in one cell. */
export const rx = (
  name: string,
  eye: Side | null,
  of: "reading" | "finding",
  write: (power: Power) => string,
  more: object = {},
): Column => [
  name,
  { is: "prescription", ...(eye === null ? {} : { eye }), ...more },
  (child, rowEye) => {
    const power = child[of][eye ?? rowEye];
    return power === null ? "" : write(power);
  },
];
