// One grammar for small and large files: RFC 4180 (https://www.rfc-editor.org/rfc/rfc4180), with any one kind
// of line end and blank lines left out.
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { plainLines } from "../../src/cohort/read/plainLines.js";
import { compareGrammars } from "./grammar.js";

function look(text: string, pieces = 1): string {
  const lines = plainLines(",", "a.csv", "read");
  const bytes = new TextEncoder().encode(text);
  const step = Math.ceil(bytes.length / pieces);
  try {
    for (let at = 0; at < bytes.length; at += step) lines.take(bytes.subarray(at, at + step));
    lines.end();
    return "fine";
  } catch (error) {
    return (error as Error).message;
  }
}

const quotes = (line: number) =>
  `read requires quotes that are closed and followed by a delimiter, got one in line ${line} of a.csv ` +
  "that is not; close it, or double the quotes within a cell";
const ends = (line: number) =>
  `read requires lines that all end in the same way, got a.csv, where line ${line} ends in another or ` +
  "has a carriage return within; saved anew by a spreadsheet it has one kind of line end";

it.each([
  ["a,b\n1,2\n", "fine"],
  ["a,b\r\n1,2\r\n", "fine"],
  ["a,b\r1,2\r", "fine"],
  ["a,b\r1,2", "fine"],
  ['a,b\n"1,\r\n2\r",3\n', "fine"],
  ['a,b\n"x ""y"" z",5\'2"\n', "fine"],
  ['a,b\n"","x"', "fine"],
  ["a,b\r\n1,2\n", ends(2)],
  ["a,b\n1,2\r\n", ends(2)],
  ["a,b\n1,2\n3,4\r", ends(3)],
  ["a,b\n1\r,2\n", ends(2)],
  ['a,b\n1,2\n"x"y,2\n', quotes(3)],
  ['a,b\n"x\n\n,2\n', quotes(2)],
  ['a,b\n"x" ,2\n', quotes(2)],
])("%j is %s, in pieces, too", (text, outcome) => {
  for (const pieces of [1, 2, 3, text.length]) expect(look(text, pieces)).toBe(outcome);
});

it("reads random tables in the same way in memory and scanned in chunks", async () => {
  const path = join(await mkdtemp(join(tmpdir(), "grammar-")), "table.csv");
  const { read, refused, differ } = await compareGrammars(path, 60, 26);
  expect(differ).toEqual([]);
  expect(read).toBeGreaterThan(20);
  expect(refused).toBeGreaterThan(5);
});
