import { expect, it } from "vitest";
import { compareSources } from "./fourSources.js";

it("40 random tables are one as rows, text, text in chunks, workbook and Parquet", async () => {
  const { read, differ } = await compareSources(40, 23);
  expect(differ).toEqual([]);
  expect(read).toBeGreaterThan(32);
});
