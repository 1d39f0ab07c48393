/** A value that the types forbid, as a caller without types may give it. */
export const wrong = (value: unknown): never => value as never;
