/** One place where two results differ. */
export interface ResultDifference {
  /** Such as "conditions[0].accuracy.sensitivity.value". */
  readonly path: string;
  readonly before: string;
  readonly after: string;
}

/** Every place where two plain results differ, to the last digit. */
export function resultDifferences(before: unknown, after: unknown, path = ""): ResultDifference[] {
  if (Object.is(before, after)) return [];
  if (isBranch(before) && isBranch(after) && Array.isArray(before) === Array.isArray(after)) {
    const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
    return [...keys].flatMap((key) => {
      const inner = Array.isArray(before)
        ? `${path}[${key}]`
        : path === ""
          ? key
          : `${path}.${key}`;
      return resultDifferences(
        (before as Record<string, unknown>)[key],
        (after as Record<string, unknown>)[key],
        inner,
      );
    });
  }
  return [{ path: path || "(the whole result)", before: shown(before), after: shown(after) }];
}

function isBranch(value: unknown): value is object {
  return typeof value === "object" && value !== null;
}

function shown(value: unknown): string {
  const text = value === undefined ? "absent" : JSON.stringify(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}
