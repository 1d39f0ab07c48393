// biome-ignore lint/suspicious/noExplicitAny: JSON that a person edits; the library checks it
export type Json = any;
