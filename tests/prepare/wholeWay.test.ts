// A few layouts the whole way; all of them in wholeWay.long.ts.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, it } from "vitest";
import { thirdPart } from "./corpus/third/index.js";
import { wholeWay } from "./wholeWay.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "whole-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const some = ["clinic-notation", "dry-and-wet", "warehouse-extract", "case-and-blanks"];

it.each(some)(
  "%s: every question answered, the mapping is right and the audit clean",
  async (name) => {
    await wholeWay(thirdPart().find((one) => one.name === name)!, folder);
  },
  60_000,
);
