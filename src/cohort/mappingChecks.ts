import { didYouMean, InputError } from "../results/index.js";
import type { AgeUnit, ColumnMapping, FindingBlock, ReadingBlock } from "./columnMapping.js";
import { type Code, contradictingCodes } from "./read/codeWords.js";

type Part = NonNullable<ReadingBlock["columns"]> | NonNullable<FindingBlock["columns"]>;

/** The age columns of a part in their order, each with its unit. */
export function ageColumnsOf(
  { age: unit }: Pick<ColumnMapping, "age">,
  age: ColumnMapping["columns"]["age"],
): { column: string; unit: AgeUnit | undefined }[] {
  if (age === undefined) return [];
  const list = Array.isArray(age) ? age : [age];
  return list.map((entry) => (typeof entry === "string" ? { column: entry, unit } : entry));
}

/** The parts of all blocks, each with the place in the mapping that names it. */
function partsOf({ readings = [], findings = [] }: ColumnMapping) {
  const blocks = [
    ...readings.map((block, at) => ({ block, path: `readings.${at}` })),
    ...findings.map((block, at) => ({ block, path: `findings.${at}` })),
  ];
  return blocks.flatMap(({ block, path }) =>
    [block.columns, block.right, block.left].flatMap((part) =>
      part === undefined ? [] : [{ block, path, part: part as Part }],
    ),
  );
}

/** Every age column has a unit. */
export function requireAgeUnits(mapping: ColumnMapping): void {
  const ages = [mapping.columns.age, ...partsOf(mapping).map(({ part }) => part.age)];
  if (ages.flatMap((age) => ageColumnsOf(mapping, age)).some(({ unit }) => unit === undefined)) {
    throw new InputError(
      'defineColumns requires age: "years" | "decimal-years" | "months" | "years-and-months", got none; say which of them the age column holds',
    );
  }
}

/** One column of both eyes says how they stand in it, and only such a column does. */
export function requireEyesApart(
  { right, left, eyesInCell }: ReadingBlock | FindingBlock,
  path: string,
): void {
  const one = right?.prescription !== undefined && right.prescription === left?.prescription;
  if (one && eyesInCell === undefined) {
    throw new InputError(
      `defineColumns requires a column for each eye in ${path}, got "${right.prescription}" for both; where a cell holds ` +
        'both eyes, add "eyesInCell": "marked" (R, L, OD, OS before each), "right-left" or "left-right"',
    );
  }
  if (!one && eyesInCell !== undefined) {
    throw new InputError(
      `defineColumns requires right and left with one column of prescriptions beside eyesInCell in ${path}, got others; ` +
        "leave eyesInCell out, or name the same prescription in both",
    );
  }
}

/** One code has one meaning, however it is written: "1" and "1.0" are one. */
export function requireOneMeaning(mapping: ColumnMapping): void {
  const decimal = mapping.text?.decimal ?? ".";
  const { eyes, readings = [], findings = [] } = mapping;
  const side = (words: readonly Code[] = [], eye: string) =>
    words.map((word) => [word, eye] as const);
  check("eyes", [...side(eyes?.right, "right"), ...side(eyes?.left, "left")]);
  for (const [kind, blocks] of Object.entries({ readings, findings })) {
    for (const [at, block] of blocks.entries()) {
      for (const [key, option] of Object.entries(block)) {
        const codes = key === "marks" ? option : (option as { codes?: object } | null)?.codes;
        if (codes !== undefined) check(`${kind}.${at}.${key}`, Object.entries(codes as object));
      }
    }
  }

  function check(path: string, codes: readonly (readonly [Code, unknown])[]): void {
    const pair = contradictingCodes(codes, decimal);
    if (pair === null) return;
    throw new InputError(
      `defineColumns requires one meaning for each code of ${path}, got two for ${JSON.stringify(pair[0])} and ${JSON.stringify(pair[1])}, ` +
        "which are one code; leave one of them out",
    );
  }
}

/** Columns that codes for missing are said of are columns that the mapping reads. */
export function requireKnownColumns(mapping: ColumnMapping): void {
  const { missing } = mapping;
  if (missing === undefined || Array.isArray(missing)) return;
  const names = mappedColumns(mapping);
  for (const name of Object.keys((missing as { columns?: object }).columns ?? {})) {
    if (names.has(name)) continue;
    throw new InputError(
      `defineColumns requires columns that the mapping reads in missing.columns, got "${name}"; ${didYouMean(name, [...names])}`,
    );
  }
}

/** The names of all columns that a mapping reads. */
function mappedColumns(mapping: ColumnMapping): ReadonlySet<string> {
  const names = new Set<string>();
  const parts = partsOf(mapping);
  for (const columns of [mapping.columns, ...parts.map(({ part }) => part)]) {
    for (const [key, name] of Object.entries(columns)) {
      if (key !== "age" && typeof name === "string") names.add(name);
    }
    for (const { column } of ageColumnsOf(mapping, columns.age)) names.add(column);
  }
  for (const { block } of parts) {
    for (const name of Object.values(block.flags ?? {})) names.add(name);
    for (const { column } of ownColumnsOf(block)) names.add(column);
  }
  return names;
}

/** A block's columns of the user's own, each with what its cells are. */
export function ownColumnsOf({ own = {} }: Pick<ReadingBlock | FindingBlock, "own">) {
  return Object.entries(own).map(([label, entry]) => {
    const {
      column,
      type = "words",
      coded = false,
    } = typeof entry === "string" ? { column: entry } : entry;
    return { label, column, type, coded };
  });
}

/** Columns whose words are read as numbers only, and by nothing else. */
export function codedColumns(mapping: ColumnMapping): readonly string[] {
  const { readings = [], findings = [] } = mapping;
  const blocks: readonly (ReadingBlock | FindingBlock)[] = [...readings, ...findings];
  const coded = blocks.flatMap((block) => ownColumnsOf(block).filter((one) => one.coded));
  const plain = mappedColumns({
    ...mapping,
    readings: readings.map((block) => ({ ...block, own: uncoded(block) })),
    findings: findings.map((block) => ({ ...block, own: uncoded(block) })),
  });
  return coded.map(({ column }) => column).filter((name) => !plain.has(name));
}

const persons =
  /examin|screener|doctor|nurse|operator|technician|optom|ophthal|observer|grader|rater|teacher|refractionist/i;

/** Own columns that, by their label or name, say who measured: what they hold may be names of persons. */
export function personColumns({
  readings = [],
  findings = [],
}: ColumnMapping): ReadonlySet<string> {
  const blocks: readonly (ReadingBlock | FindingBlock)[] = [...readings, ...findings];
  const own = blocks.flatMap((block) => ownColumnsOf(block));
  return new Set(
    own
      .filter(({ label, column, type }) => type === "words" && persons.test(`${label} ${column}`))
      .map(({ column }) => column),
  );
}

function uncoded(block: ReadingBlock | FindingBlock): Record<string, string> {
  const plain = ownColumnsOf(block).filter((one) => !one.coded);
  return Object.fromEntries(plain.map(({ label, column }) => [label, column]));
}
