import { packageText } from "../platform/index.js";

/** What a value may be, as its type says; "#Name" is the shape of that name. */
export type Shape = string | Literals | Column | Tuple | Choice | Members;

export interface Literals {
  readonly is: readonly (string | number | boolean)[];
}
export interface Column {
  readonly of: Shape;
}
export interface Tuple {
  readonly tuple: readonly Shape[];
}
export interface Choice {
  readonly any: readonly Shape[];
}
/** An object with keys (those that end in "?" may be left out), or with any keys and `each` a value. */
export interface Members {
  readonly keys?: { readonly [name: string]: Shape };
  readonly each?: Shape;
}

export interface Parameter {
  readonly name: string;
  readonly shape: Shape;
  readonly optional?: true;
  /** The last one, which takes all that follow. */
  readonly rest?: true;
}

/** The types of the public functions, as `npm run face` reads them from the code. */
export interface Shapes {
  /** The ways in which a function may be called. */
  readonly calls: { readonly [name: string]: readonly (readonly Parameter[])[] };
  readonly named: { readonly [name: string]: Shape };
}

let read: Shapes | undefined;

/** Read at the first call of a public function. */
export function shapes(): Shapes {
  read ??= parsed(packageText("src/boundary/shapes.jsonl"));
  return read;
}

/** One function or one named shape a line: [name, what it is]. */
function parsed(text: string): Shapes {
  const lines = text
    .trim()
    .split("\n")
    .map((line): [string, never] => JSON.parse(line));
  const isShape = ([name]: [string, never]) => name.startsWith("#");
  return {
    calls: Object.fromEntries(lines.filter((line) => !isShape(line))),
    named: Object.fromEntries(lines.filter(isShape)),
  };
}
