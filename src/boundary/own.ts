import type { Members } from "./shapes.js";

/** What public functions gave back in this run. */
const given = new WeakSet<object>();

/** Remembers a result with a `kind`: it need not be looked through each time it is handed on. */
export function asOwn<Result>(result: Result): Result {
  if (hasKind(result)) given.add(result);
  return result;
}

/**
 * Whether a value is, as it stands, what a public function gave back, and of the kind that is asked for. A copy,
 * also one with a changed member, is looked through again; so is everything read from a file.
 */
export function isOwn(value: object, { keys }: Members): boolean {
  const kind = keys?.kind;
  return (
    given.has(value) &&
    hasKind(value) &&
    typeof kind === "object" &&
    "is" in kind &&
    kind.is.includes(value.kind)
  );
}

const hasKind = (value: unknown): value is { readonly kind: string } =>
  typeof value === "object" && value !== null && "kind" in value && typeof value.kind === "string";
