import { InputError } from "../results/index.js";
import { escapeHtml, plainText } from "../text/index.js";
import { installBareResults } from "./bareResults.js";
import { displayOf, textOf } from "./display.js";
import { kernelDisplay } from "./kernelDisplay.js";

/**
 * Shows a result in a notebook: a figure as a picture with its text, a table as a table, an
 * estimate as "0.85 (0.79 to 0.90)", problems as a list that opens at a click, a text as a
 * paragraph, any other result, or object of results, as a short table with its `kind` as title.
 * Works as the last line of a cell, without `await`. Outside a notebook it returns the text.
 *
 * @param results one or more results of this package, or objects of them with a name each
 * @throws when a result is neither an object nor a text
 *
 * @example
 * show({ kind: "estimate", value: 0.85, low: 0.79, high: 0.9, level: 0.95, method: "wilson" }) // => "0.85 (0.79 to 0.90)"
 */
export function show(...results: readonly (object | string)[]): string | undefined {
  const write = kernelDisplay();
  const texts = results.map((result) => {
    if (typeof result === "string") {
      write?.({ "text/html": `<p>${escapeHtml(result)}</p>`, "text/plain": plainText(result) });
      return plainText(result);
    }
    if (typeof result !== "object" || result === null) {
      throw new InputError(`show requires a result, got ${result}`);
    }
    if (result instanceof Promise) {
      throw new InputError("show requires a result, got a promise: write await before the call");
    }
    requireNumbersIn(result);
    if (write === undefined) return textOf(result);
    write(displayOf(result));
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

installBareResults();
