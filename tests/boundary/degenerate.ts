import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { runInNewContext } from "node:vm";
import { createRandom, InputError } from "../../src/face.js";

// Calls of public functions with one thing in their arguments made degenerate, and how they end.

type Step = string | number;
type Path = readonly Step[];

export interface Variant {
  /** Where in the arguments, and what became of it. */
  readonly what: string;
  readonly parameters: readonly unknown[];
  /** Whether nothing but a refusal is right. */
  readonly refused: boolean;
}

/** What stands in place of any value. */
const strange: readonly [name: string, value: unknown][] = [
  ["null", null],
  ["undefined", undefined],
  ["true", true],
  ["a word", "x"],
  ["an empty word", ""],
  ["NaN", Number.NaN],
  ["Infinity", Number.POSITIVE_INFINITY],
  ["-Infinity", Number.NEGATIVE_INFINITY],
  ["huge", 1e308],
  ["-1", -1],
  ["0", 0],
  ["an object", {}],
  ["an empty list", []],
];

/** Columns that say whose a row is: there numbers, words and yes or no are labels. */
const labels = /^(subjects?|sites?|strata|units|by|groups?|ageMonths)$/;

/** Where a key or a missing value is as good as any other, by function: what its docstring says. */
const documented: { readonly [name: string]: RegExp } = {
  // columns of a table may have any name
  ...from(
    ["auditFile", "auditIdentifiers", "deidentify", "readFindings", "readReadings"],
    /^0\.\d+: /,
  ),
  // a cell may be empty, or a word
  ...from(
    [
      "suppressSmallCells",
      "toCsv",
      "toFrame",
      "toHtml",
      "toLatex",
      "toMarkdown",
      "toWord",
      "toWorkbook",
    ],
    /cells: (null|undefined|a hole|a word|an empty word)/,
  ),
  fromFrame: /^0\.values/,
  // null switches a limit off
  ...from(
    [
      "bestRule",
      "limitHeatMapFigure",
      "paretoFront",
      "restrictToExamined",
      "ruleAt",
      "ruleFrontsByAgeBand",
      "ruleSpace",
    ],
    /\.limits\.\w+: null/,
  ),
  // rows of any kind
  bootstrap: /^1\.rows/,
  // a specification is Vega-Lite's
  render: /^0\.spec/,
};

function from(names: readonly string[], places: RegExp): { readonly [name: string]: RegExp } {
  return Object.fromEntries(names.map((name) => [name, places]));
}

/** Results in which an infinite number is documented: a value beyond every limit, a limit that is off. */
const endless = /^restrictToExamined .(measures|limits)/;

/** All variants of the arguments of a function, as deep as they go. */
export function variantsOf(name: string, parameters: readonly unknown[]): Variant[] {
  return parameters
    .flatMap((value, at) => [...look(parameters, [at], value)])
    .map((one) => ({ ...one, refused: one.refused && !documented[name]?.test(one.what) }));
}

function* look(
  parameters: readonly unknown[],
  path: Path,
  value: unknown,
  within = false,
): Generator<Variant> {
  const made = within || (typeof value === "object" && value !== null && "kind" in value);
  const put = (what: string, other: unknown, refused = false): Variant => ({
    what: `${path.join(".")}: ${what}`,
    parameters: replaced(parameters, path, other) as unknown[],
    refused,
  });
  for (const [name, other] of strange) yield put(name, other);
  if (typeof value !== "object" || value === null) return;
  if (isList(value)) {
    if (ArrayBuffer.isView(value)) {
      const kind = value.constructor as Float64ArrayConstructor;
      yield* typedLists(
        (what, list) => put(what, kind.from(list)),
        Array.from(value as Float64Array),
      );
      return;
    }
    yield* lists(put, Array.from(value), path);
    const entries = Array.from(value);
    const shown = entries.every((one) => typeof one === "object") ? entries.slice(0, 2) : [];
    for (const [at, entry] of shown.entries()) yield* look(parameters, [...path, at], entry, true);
    return;
  }
  if (Object.getPrototypeOf(value) !== Object.prototype) return;
  const open = path.length === 1 && !("kind" in value) && isRecordOfColumns(value);
  yield put("an unknown key", { ...value, qqqqqq: 1 }, !made && !open);
  yield* together(put, value);
  for (const [key, one] of Object.entries(value))
    yield* look(parameters, [...path, key], one, made);
}

const isList = (value: object): value is ArrayLike<unknown> =>
  Array.isArray(value) || (ArrayBuffer.isView(value) && "length" in value);

const isRecordOfColumns = (value: object) =>
  Object.values(value).every((one) => isList(Object(one)));

function* lists(
  put: (what: string, other: unknown, refused?: boolean) => Variant,
  list: unknown[],
  path: Path,
): Generator<Variant> {
  yield put("one entry", list.slice(0, 1));
  yield put("one entry less", list.slice(0, -1));
  yield put(
    "all equal",
    list.map(() => list[0]),
  );
  const middle = list.length >> 1;
  if (list.length === 0) return;
  const key = path.findLast((step) => typeof step === "string");
  const numbers =
    list.every((one) => typeof one === "number") && !labels.test(String(key)) && list.length > 0;
  const yesNo = list.every((one) => one === 0 || one === 1);
  for (const [name, other] of strange) {
    const isNumber =
      typeof other === "number" ||
      (yesNo && other === true) ||
      (yesNo && typeof other === "string");
    yield put(`${name} in row ${middle}`, list.with(middle, other), numbers && !isNumber);
  }
  const hole = [...list];
  delete hole[middle];
  yield put(`a hole in row ${middle}`, hole, numbers);
}

/** The same of a typed array, which holds numbers and nothing else. */
function* typedLists(
  put: (what: string, other: number[]) => Variant,
  list: number[],
): Generator<Variant> {
  yield put("one entry", list.slice(0, 1));
  yield put("one entry less", list.slice(0, -1));
  if (list.length === 0) return;
  const middle = list.length >> 1;
  for (const other of [Number.NaN, Number.POSITIVE_INFINITY, 1e308, -1]) {
    yield put(`${other} in row ${middle}`, list.with(middle, other));
  }
}

/** All columns of one length cut together, or all rows of one child. */
function* together(
  put: (what: string, other: unknown) => Variant,
  value: object,
): Generator<Variant> {
  const columns = Object.entries(value).filter(([, one]) => isList(Object(one)));
  const rows = columns[0]?.[1].length ?? 0;
  if (rows < 2 || columns.some(([, one]) => one.length !== rows)) return;
  const changed = (change: (list: unknown[]) => unknown[]) => ({
    ...value,
    ...Object.fromEntries(columns.map(([key, one]) => [key, change(Array.from(one))])),
  });
  for (const count of [0, 1, 2])
    yield put(
      `${count} rows`,
      changed((list) => list.slice(0, count)),
    );
  yield put(
    "all rows equal",
    changed((list) => list.map(() => list[0])),
  );
  yield put(
    "all rows huge",
    changed((list) =>
      list.map((one, row) => (typeof one === "number" ? 1e308 * (row % 2 ? 1 : -1) : one)),
    ),
  );
  yield put("one child", { ...value, subjects: Array.from({ length: rows }, () => "c") });
}

function replaced(value: unknown, [step, ...rest]: Path, other: unknown): unknown {
  if (step === undefined) return other;
  if (Array.isArray(value)) {
    return value.with(step as number, replaced(value[step as number], rest, other));
  }
  const object = value as { readonly [key: string]: unknown };
  return { ...object, [step]: replaced(object[step], rest, other) };
}

/** How a call ended, where it did not end well. */
export async function endOf(
  name: string,
  call: (...parameters: unknown[]) => unknown,
  { parameters, refused }: Variant,
  seconds = 5,
): Promise<string | undefined> {
  let result: unknown;
  try {
    const run = () => call(...parameters);
    result = await runInNewContext("run()", { run }, { timeout: seconds * 1000 });
  } catch (error) {
    if (error instanceof InputError) return undefined;
    const { name: kind, message } = error as Error;
    return `${kind}: ${message}`;
  }
  if (refused) return "taken as it is";
  return notFinite(result).find(
    (fault) => !(endless.test(`${name} ${fault}`) && /Infinity/.test(fault)),
  );
}

/** So many of them, seeded by a word. */
export function someOf(variants: readonly Variant[], count: number, word: string): Variant[] {
  const seed = [...word].reduce((sum, letter) => (31 * sum + letter.charCodeAt(0)) % 100_003, 7);
  const random = createRandom(seed);
  return Array.from({ length: count }, () => variants[random.integer(variants.length)]!);
}

/** How calls with some of the variants ended, where they did not end well, in words. */
export async function faultsOf(
  name: string,
  call: (...parameters: unknown[]) => unknown,
  variants: readonly Variant[],
): Promise<string[]> {
  const faults: string[] = [];
  for (const variant of variants) {
    const end = await endOf(name, call, variant);
    if (end !== undefined) faults.push(`${name}, ${variant.what}: ${end}`);
  }
  return faults;
}

/** In a folder of its own, since some functions write where a word says. */
export async function elsewhere<T>(work: () => Promise<T>): Promise<T> {
  const home = process.cwd();
  const folder = mkdtempSync(join(tmpdir(), "degenerate-"));
  process.chdir(folder);
  try {
    return await work();
  } finally {
    process.chdir(home);
    rmSync(folder, { recursive: true });
  }
}

/** Numbers in a result that are none, by their keys; typed arrays are columns, where NaN is "missing". */
export function notFinite(value: unknown, at = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${at} is ${value}`];
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return [];
  if (Array.isArray(value)) return value.flatMap((one) => notFinite(one, `${at}[]`));
  return Object.entries(value).flatMap(([key, one]) => notFinite(one, `${at}.${key}`));
}
