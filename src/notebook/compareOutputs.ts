import type { CellOutput, Notebook } from "./notebookFile.js";

/**
 * What differs between a notebook's saved outputs and those of a new run: one line per code cell,
 * none when they agree. Texts agree when their words are the same and their numbers within 1e-6
 * (relative to 1 or more); drawings when they do within 0.05 of a pixel; a PNG by its size only,
 * since the drawing beside it is compared.
 */
export function compareOutputs(saved: Notebook, run: Notebook): string[] {
  const code = (notebook: Notebook) => notebook.cells.filter(({ kind }) => kind === "code");
  const after = code(run);
  return code(saved).flatMap(({ outputs }, cell) => {
    const difference = firstDifference(outputs, after[cell]!.outputs);
    return difference === undefined ? [] : [`code cell ${cell + 1}: ${difference}`];
  });
}

function firstDifference(
  saved: readonly CellOutput[],
  run: readonly CellOutput[],
): string | undefined {
  if (saved.length !== run.length) return `${saved.length} outputs saved, ${run.length} now`;
  for (const [index, before] of saved.entries()) {
    const now = run[index]!;
    const left = parts(before);
    const right = parts(now);
    const types = Object.keys(left).sort();
    if (types.join() !== Object.keys(right).sort().join()) {
      return `${types.join(", ")} saved, ${Object.keys(right).sort().join(", ")} now`;
    }
    for (const type of types) {
      const difference = compareText(type, left[type]!, right[type]!);
      if (difference !== undefined) return `${type}: ${difference}`;
    }
  }
  return undefined;
}

function parts(output: CellOutput): Readonly<Record<string, string>> {
  return output.output_type === "stream" ? { [output.name]: output.text } : output.data;
}

const number = /[-+−]?\d+(?:\.\d+)?(?:e[-+]?\d+)?/gi;

function compareText(type: string, saved: string, now: string): string | undefined {
  if (saved === now) return undefined;
  if (type === "image/png") {
    const size = (png: string) => Buffer.from(png.slice(0, 64), "base64").subarray(16, 24);
    return size(saved).equals(size(now)) ? undefined : "another size";
  }
  const drawn = type === "text/html" && saved.includes("data:image/svg+xml;base64,");
  const left = drawn ? decoded(saved) : saved;
  const right = drawn ? decoded(now) : now;
  const wordsSaved = left.split(number);
  const wordsNow = right.split(number);
  const word = wordsSaved.findIndex((text, index) => text !== wordsNow[index]);
  if (word >= 0 || wordsSaved.length !== wordsNow.length) {
    return `${shorten(wordsSaved[word] ?? "")} saved, ${shorten(wordsNow[word] ?? "")} now`;
  }
  const numbersNow = right.match(number) ?? [];
  for (const [index, text] of (left.match(number) ?? []).entries()) {
    const a = value(text);
    const b = value(numbersNow[index]!);
    const tolerance = drawn ? 0.05 : 1e-6 * Math.max(1, Math.abs(a));
    if (Math.abs(a - b) > tolerance) return `${text} saved, ${numbersNow[index]} now`;
  }
  return undefined;
}

function decoded(html: string): string {
  return html.replace(/data:image\/svg\+xml;base64,([\w+/=]+)/g, (_, base64: string) =>
    Buffer.from(base64, "base64").toString("utf8"),
  );
}

function value(text: string): number {
  return Number(text.replace("−", "-"));
}

function shorten(text: string): string {
  const line = JSON.stringify(text.trim());
  return line.length > 60 ? `${line.slice(0, 60)}…` : line;
}
