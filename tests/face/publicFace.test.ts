import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import * as face from "../../src/index.js";
import * as internal from "../../src/internal.js";
import {
  facePath,
  faceProgram,
  faceText,
  type PublicName,
  publicColumns,
  publicNames,
  withSummaries,
} from "./publicFace.js";
import { labelledCalls } from "../rows/labelledCalls.js";
import { guardedText, shapesText } from "./shapesText.js";

const root = resolve(import.meta.dirname, "../..");
let names: PublicName[];
let shapes: string;
let columns: string[];
beforeAll(() => {
  const program = faceProgram();
  names = publicNames(program);
  shapes = shapesText(program, facePath);
  columns = publicColumns(program, ["subjects", "units", "strata", "by"]);
}, 300_000);

/** Types that a call is made of are of no use by name; these are named in what we promise. */
const fixed = new Set([
  "Cohort",
  "Estimate",
  "FigureSpec",
  "PowerVector",
  "Prescription",
  "Protocol",
  "ReferralRule",
  "TableModel",
  "TwoByTwo",
  "Undefined",
]);

describe("the public face", () => {
  it("has behind each name its summary (`npm run face` writes them)", async () => {
    await expect(withSummaries(faceText(), names)).toMatchFileSnapshot(facePath);
  });

  it("checks what each function is given by the types of now (`npm run face` writes both)", async () => {
    await expect(shapes).toMatchFileSnapshot(resolve(root, "src/boundary/shapes.jsonl"));
    await expect(guardedText(face)).toMatchFileSnapshot(resolve(root, "src/face.ts"));
  });

  it("says of each name what it is, in a docstring", () => {
    expect(names.filter(({ summary }) => summary === "").map(({ name }) => name)).toEqual([]);
  });

  it("has the types that a public function returns or takes as data, and no others", () => {
    const used = new Set(names.flatMap((one) => one.names));
    const types = names.filter(({ kind }) => kind === "type").map(({ name }) => name);
    expect(types.filter((name) => !used.has(name) && !fixed.has(name))).toEqual([]);
  });

  it("has no function that takes labels without its call in tests/rows/labelledCalls.ts", () => {
    // biasBy counts rows without a group instead
    expect(columns.filter((name) => name !== "biasBy by")).toEqual(
      Object.keys(labelledCalls).sort(),
    );
  });

  it("names each value in the README of its room", () => {
    const missing = names.filter(({ kind, room, name }) => {
      if (kind === "type") return false;
      const text = readFileSync(resolve(root, "src", room, "README.md"), "utf8");
      return !new RegExp(`\\b${name}\\b`).test(text);
    });
    expect(missing.map(({ room, name }) => `${room}: ${name}`)).toEqual([]);
  });

  it("has nothing of what is internal", () => {
    const open = new Set(names.map(({ name }) => name));
    expect(Object.keys(internal).filter((name) => open.has(name))).toEqual([]);
  });
});
