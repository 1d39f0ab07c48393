/**
 * Makes console.error print an error as its name and message. The kernel reports a failed cell by
 * console.error, whose page of stack would hide the message and save this machine's paths in the
 * notebook.
 */
export function oneLineErrors(): void {
  const before = console.error;
  console.error = (...values: unknown[]) => before(...values.map(withoutStack));
}

/** "TypeError: x is not a function"; what is no error stays as it is. */
export function withoutStack(value: unknown): unknown {
  if (!(value instanceof Error)) return value;
  const cause = value.cause instanceof Error ? ` (${value.cause.message})` : "";
  return `${value.name}: ${value.message}${cause}`;
}
