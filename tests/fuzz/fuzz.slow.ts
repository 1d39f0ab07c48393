// Every way in for text and JSON ends in a result or in the package's own error. A short form here; at length,
// with the table and the corpus written anew:
//   npm run fuzz
import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type FuzzCount, fuzz } from "./fuzz.js";
import { parsers } from "./parsers.js";

const isLong = process.env.FUZZ === "long";
const executions = isLong ? Number(process.env.EXECUTIONS ?? 1_000_000) : 1500;
const table = new URL("./result.json", import.meta.url);
const corpora = new URL("./corpus.json", import.meta.url);
const readJson = (path: URL) => JSON.parse(readFileSync(path, "utf8"));

describe("a changed text is read, or refused in words", () => {
  for (const parser of parsers) {
    it(parser.name, { timeout: 14_400_000 }, async () => {
      const kept: { [parser: string]: string[] } = readJson(corpora);
      const { count, corpus } = await fuzz(parser, {
        executions,
        seed: Number(process.env.SEED ?? 1),
        corpus: kept[parser.name] ?? [],
      });
      if (isLong) {
        console.log(JSON.stringify(count));
        const shortest = corpus.toSorted((one, other) => one.length - other.length);
        kept[parser.name] = shortest.slice(0, parser.json ? 60 : 300);
        writeFileSync(corpora, `${JSON.stringify(kept, null, 1)}\n`);
        const others = (readJson(table).parsers as FuzzCount[]).filter(
          (one) => one.parser !== parser.name,
        );
        const all = parsers.flatMap(
          ({ name }) => [...others, count].find((one) => one.parser === name) ?? [],
        );
        writeFileSync(table, `${JSON.stringify({ kind: "fuzz", parsers: all }, null, 2)}\n`);
      }
      expect(count.faults).toEqual([]);
      expect(count.accepted).toBeGreaterThan(0);
      if (parser.refuses) expect(count.accepted).toBeLessThan(1);
      expect(count.branches).toBeGreaterThan(0.3);
    });
  }
});
