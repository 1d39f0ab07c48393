import type { core } from "zod";

interface NamedIssue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/**
 * An issue with its path; where a value may have several shapes, the issues of the shape it comes
 * nearest to: the one that knows most of its keys, then the one with the fewest issues.
 */
export function namedIssues(issue: core.$ZodIssue): NamedIssue[] {
  if (issue.code !== "invalid_union" || issue.errors.length === 0) {
    return [{ path: issue.path, message: issue.message }];
  }
  const [nearest] = issue.errors.toSorted(
    (one, other) => strangeKeys(one) - strangeKeys(other) || one.length - other.length,
  );
  return nearest
    .flatMap(namedIssues)
    .map(({ path, message }) => ({ path: [...issue.path, ...path], message }));
}

function strangeKeys(issues: readonly core.$ZodIssue[]): number {
  return issues.reduce(
    (sum, issue) =>
      issue.path.length > 0
        ? sum
        : issue.code === "unrecognized_keys"
          ? sum + issue.keys.length
          : // no object, or another one altogether
            sum + 100,
    0,
  );
}
