// Every layout of the second to ninth part the whole way, but for those that a mapping cannot say
// (src/prepare/README.md, limits): powers in hundredths, a reading and a finding in rows below each other; those whose
// files are refused with the line to mend; one where the audit rightly stops at words among powers, and one whose
// measurement is asked.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, it } from "vitest";
import {
  eighthPart,
  fifthPart,
  fourthPart,
  ninthPart,
  secondHalf,
  seventhPart,
  sixthPart,
} from "./corpus/folders.js";
import { thirdPart } from "./corpus/third/index.js";
import { wholeWay } from "./wholeWay.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "whole-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

const beyond = [
  "signal-log",
  "augenambulanz",
  "whole-hundredths",
  "lakeshore-district",
  "oftalmo-infantil",
];
const refused: readonly string[] = JSON.parse(
  readFileSync("tests/prepare/corpus/seventh/unseen.json", "utf8"),
).refused;
const layouts = [
  ...secondHalf(),
  ...thirdPart(),
  ...fourthPart(),
  ...fifthPart(),
  ...sixthPart().filter(({ name }) => !beyond.includes(name)),
  ...seventhPart().filter(({ name }) => ![...beyond, ...refused].includes(name)),
  ...eighthPart(),
  ...ninthPart(),
];

it.each(layouts.map((one) => [one.name, one] as const))(
  "%s: every question answered, the mapping is right and the audit clean",
  async (_, one) => {
    await wholeWay(one, mkdtempSync(join(folder, "layout-")));
  },
  60_000,
);
