import { expect, it } from "vitest";
import { compareSources } from "./fourSources.js";

it("2,000 random tables are one as rows, text, text in chunks, workbook and Parquet", async () => {
  const { read, rejected, cells, differ } = await compareSources(2000, 1);
  console.log({ read, rejected, cells, differ: differ.length });
  expect(differ).toEqual([]);
});
