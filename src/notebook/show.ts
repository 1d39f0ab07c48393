import { kernelDisplay } from "../platform/index.js";
import { InputError } from "../results/index.js";
import { escapeHtml, plainText } from "../text/index.js";
import { installBareResults } from "./bareResults.js";
import { displaysOf, type ShowOptions, textOf } from "./display.js";
import type { DrawnRows, DrawnVectors } from "./views/index.js";

/**
 * Shows a result in a notebook, the answer first: a sentence, then its tables (a 2x2 table with its margins,
 * groups with their n), then its figure where the result alone suffices. A figure is a picture with its text,
 * an estimate "0.85 (0.79 to 0.90)", problems are a list that opens at a click, a text is a paragraph, a frame
 * its first ten rows. Any other object of results is a table with its `kind` as title. Works as the last line
 * of a cell, without `await`. Outside a notebook it returns the text.
 *
 * Pairs after a result, `{ test, reference }` or those of `eyePairs` and `powerVectorPairs`, are the rows that its figure draws:
 * `show(agreement, pairs)`. `{ figure: false }` at the end leaves figures out; `{ live: true }` makes them answer:
 * marks say their numbers when one points at them, a limit moves, a selection goes from view to view. Live
 * figures need a front end that draws open chart types, or the running kernel; elsewhere the picture stands.
 *
 * @param results one or more results of this package, or objects of them with a name each
 * @throws InputError when a result is neither an object nor a text, or is a promise
 *
 * @example
 * show({ kind: "estimate", value: 0.85, low: 0.79, high: 0.9, level: 0.95, method: "wilson" }) // => "0.85 (0.79 to 0.90)"
 */
export function show(...results: readonly (object | string)[]): string | undefined {
  const write = kernelDisplay();
  const { shown, options } = parted(results);
  const texts = shown.map(({ result, rows }) => {
    if (typeof result === "string") {
      write?.({ "text/html": `<p>${escapeHtml(result)}</p>`, "text/plain": plainText(result) });
      return plainText(result);
    }
    requireNumbersIn(result);
    if (write === undefined) return textOf(result, rows);
    for (const display of displaysOf(result, rows, options)) write(display);
    return "";
  });
  return write === undefined ? texts.join("\n") : undefined;
}

/** An estimate has its three numbers. */
function requireNumbersIn(result: object): void {
  if (!("kind" in result) || result.kind !== "estimate") return;
  const { value, low, high } = result as { readonly [key: string]: unknown };
  if ([value, low, high].every(Number.isFinite)) return;
  throw new InputError(
    `show requires numbers for the value, low and high of an estimate, got ${value}, ${low}, ${high}`,
  );
}

interface Shown {
  readonly result: object | string;
  readonly rows: DrawnRows | DrawnVectors | null;
}

/** Results, each with the pairs that follow it, and options at the end. */
function parted(all: readonly (object | string)[]): {
  readonly shown: readonly Shown[];
  readonly options: ShowOptions;
} {
  const last = all.at(-1);
  const isOptions = typeof last === "object" && last !== null && isFigureOption(last);
  const shown: Shown[] = [];
  for (const result of isOptions ? all.slice(0, -1) : all) {
    if (typeof result !== "string" && (typeof result !== "object" || result === null)) {
      throw new InputError(`show requires a result, got ${result}`);
    }
    if (result instanceof Promise) {
      throw new InputError("show requires a result, got a promise: write await before the call");
    }
    const before = shown.at(-1);
    if (typeof result === "object" && isPairs(result) && typeof before?.result === "object") {
      shown[shown.length - 1] = { ...before, rows: result };
    } else shown.push({ result, rows: null });
  }
  return { shown, options: isOptions ? (last as ShowOptions) : {} };
}

/** An object of nothing but options. */
const isFigureOption = (value: object): boolean => {
  const entries = Object.entries(value);
  return (
    entries.length > 0 &&
    entries.every(([key, set]) => ["figure", "live"].includes(key) && typeof set === "boolean")
  );
};

const pairKinds = new Set<unknown>([undefined, "eye-pairs", "power-vector-pairs"]);

/** Two columns of data; a result of the same two names is none. */
function isPairs(value: object): value is DrawnRows | DrawnVectors {
  const isColumn = (one: unknown) => Array.isArray(one) || ArrayBuffer.isView(one);
  const { kind, test, reference } = value as {
    kind?: unknown;
    test?: unknown;
    reference?: unknown;
  };
  return pairKinds.has(kind) && isColumn(test) && isColumn(reference);
}

installBareResults();
