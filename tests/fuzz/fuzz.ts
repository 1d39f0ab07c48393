import { Session } from "node:inspector/promises";
import { createRandom } from "../../src/inference/index.js";
import { InputError } from "../../src/results/index.js";
import { mutateJson, mutateText } from "./mutate.js";
import type { Parser } from "./parsers.js";

/** What became of a parser's executions. */
export interface FuzzCount {
  readonly parser: string;
  readonly executions: number;
  /** Share of the texts that were read. */
  readonly accepted: number;
  /** Ways of ending: kinds of results and of messages. */
  readonly ways: number;
  /** Share of the branches of its files that were reached. */
  readonly branches: number;
  /** Endings in anything but a result or the package's own error: 0, or something is wrong. */
  readonly faults: readonly string[];
  /** Milliseconds of the slowest text. */
  readonly slowest: number;
}

/**
 * Reads so many changed texts. A text that ends in a way not seen before joins those that the next ones are
 * made from: the corpus.
 */
export async function fuzz(
  parser: Parser,
  options: {
    readonly executions: number;
    readonly seed: number;
    readonly corpus: readonly string[];
  },
): Promise<{ readonly count: FuzzCount; readonly corpus: readonly string[] }> {
  const random = createRandom(options.seed);
  const corpus = [...new Set([...parser.seeds, ...options.corpus])];
  const ways = new Set<string>();
  const faults: string[] = [];
  const mutate = parser.json ? mutateJson : mutateText;
  let [accepted, slowest] = [0, 0];
  const session = new Session();
  session.connect();
  await session.post("Profiler.enable");
  await session.post("Profiler.startPreciseCoverage", { callCount: true, detailed: true });
  const kept = corpus.length;
  for (let at = 0; at < options.executions; at++) {
    // what is kept is read once more, then changed; every other text is one change from a right one
    const from = at % 2 === 0 ? parser.seeds : corpus;
    const text =
      at < kept
        ? corpus[at]
        : mutate(from[random.integer(from.length)], corpus, parser.words, random);
    const begun = performance.now();
    let way: string;
    try {
      const made = await parser.read(text);
      accepted++;
      way = `read: ${shapeOf(made)}`;
      if (hasNoNumber(made)) fault(`a number that is none, of ${JSON.stringify(text)}`);
    } catch (error) {
      way = messageOf(error);
      if (!(error instanceof InputError)) fault(`${error} of ${JSON.stringify(text)}`);
    }
    slowest = Math.max(slowest, performance.now() - begun);
    if (ways.has(way)) continue;
    ways.add(way);
    if (at >= kept && text.length < 2500) corpus.push(text);
  }
  const { result } = await session.post("Profiler.takePreciseCoverage");
  session.disconnect();
  function fault(words: string): void {
    if (faults.length < 10) faults.push(words.slice(0, 400));
  }
  return {
    count: {
      parser: parser.name,
      executions: options.executions,
      accepted: Math.round((1000 * accepted) / options.executions) / 1000,
      ways: ways.size,
      branches: branchesIn(result, parser.files),
      faults,
      slowest: Math.round(slowest),
    },
    corpus: corpus.filter((text) => !parser.seeds.includes(text)),
  };
}

/** The message without what was given: numbers, quoted parts. */
function messageOf(error: unknown): string {
  return String(error)
    .replace(/"(?:[^"\\]|\\.)*"|“[^”]*”|'[^']*'/g, "q")
    .replace(/[-+]?\d[\d.,e+-]*/g, "9")
    .slice(0, 90);
}

/** What kind of result, without its values. */
function shapeOf(value: unknown, depth = 0): string {
  if (Array.isArray(value) || ArrayBuffer.isView(value)) return "list";
  if (typeof value !== "object" || value === null) return value === null ? "null" : typeof value;
  if (depth > 1) return "object";
  return Object.entries(value)
    .map(([key, one]) => `${key}:${shapeOf(one, depth + 1)}`)
    .sort()
    .join(",")
    .slice(0, 160);
}

function hasNoNumber(value: unknown, depth = 0): boolean {
  if (typeof value === "number") return !Number.isFinite(value);
  if (typeof value !== "object" || value === null || depth > 6) return false;
  return Object.values(value).some((one) => hasNoNumber(one, depth + 1));
}

/** Share of the blocks that ran, of the functions in these files. */
function branchesIn(
  scripts: readonly { url: string; functions: { ranges: { count: number }[] }[] }[],
  files: RegExp,
): number {
  const blocks = scripts
    .filter(({ url }) => files.test(url) && !url.includes("/tests/"))
    .flatMap(({ functions }) => functions.flatMap(({ ranges }) => ranges));
  const reached = blocks.filter(({ count }) => count > 0).length;
  return Math.round((1000 * reached) / Math.max(1, blocks.length)) / 1000;
}
