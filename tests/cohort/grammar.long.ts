import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { compareGrammars } from "./grammar.js";

it("2,000 random tables are read in the same way in memory and scanned in chunks", async () => {
  const path = join(await mkdtemp(join(tmpdir(), "grammar-")), "table.csv");
  const { read, refused, differ } = await compareGrammars(path, 2000, 1);
  console.log({ read, refused, differ: differ.length });
  expect(differ).toEqual([]);
});
