/** What is missing of a thing whose parts belong together, by its kind; undefined where nothing is. */
export function lackOf(value: { readonly [key: string]: unknown }): string | undefined {
  return typeof value.kind === "string" ? lacks[value.kind]?.(value as never) : undefined;
}

interface Table {
  readonly n: number;
  readonly [column: string]: unknown;
}

interface Space {
  readonly criteria: readonly string[];
  readonly limits: { readonly [criterion: string]: ArrayLike<unknown> };
  readonly withCondition: { readonly passed: ArrayLike<unknown> };
  readonly withoutCondition: { readonly passed: ArrayLike<unknown> };
}

const lacks: { readonly [kind: string]: ((value: never) => string | undefined) | undefined } = {
  readings: shortColumn,
  findings: shortColumn,
  "roc-curve": ({ points }: { readonly points: ArrayLike<unknown> }) =>
    points.length === 0 ? "no points" : undefined,
  "rule-space": shortSpace,
};

/** A column of rows has `n` entries. */
function shortColumn({ n, ...columns }: Table): string | undefined {
  for (const [name, column] of Object.entries(columns)) {
    const codes = (column as { readonly codes?: unknown } | null)?.codes ?? column;
    if (!ArrayBuffer.isView(codes) || !("length" in codes)) continue;
    if (codes.length !== n) return `${codes.length} rows of ${name} for n ${n}`;
  }
  return undefined;
}

/** A table of counts has a place for each rule. */
function shortSpace(space: Space): string | undefined {
  const { criteria, limits, withCondition, withoutCondition } = space;
  const lost = criteria.find((name) => !Object.hasOwn(limits, name));
  if (lost !== undefined) return `no limits of ${lost}`;
  const rules = criteria.reduce((product, name) => product * limits[name].length, 1);
  for (const { passed } of [withCondition, withoutCondition]) {
    if (passed.length !== rules) return `counts of ${passed.length} rules for ${rules}`;
  }
  return undefined;
}
