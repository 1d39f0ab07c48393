// Every layout of the second to fifth part the whole way.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, it } from "vitest";
import { fifthPart, fourthPart, secondHalf } from "./corpus/folders.js";
import { thirdPart } from "./corpus/third/index.js";
import { wholeWay } from "./wholeWay.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "whole-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const layouts = [...secondHalf(), ...thirdPart(), ...fourthPart(), ...fifthPart()];

it.each(layouts.map((one) => [one.name, one] as const))(
  "%s: every question answered, the mapping is right and the audit clean",
  async (_, one) => {
    await wholeWay(one, mkdtempSync(join(folder, "layout-")));
  },
  60_000,
);
