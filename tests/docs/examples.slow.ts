import { expect, it } from "vitest";
import * as face from "../../src/face.js";
import { elsewhere, faultsOf, someOf, variantsOf } from "../boundary/degenerate.js";
import { all, slowExamples } from "./exampleRuns.js";
import { expectExample } from "./expectExample.js";

const slow = all.filter(({ name }) => slowExamples.has(name));

it("are there for every name that is slow", () => {
  expect(new Set(slow.map(({ name }) => name))).toEqual(slowExamples);
});

it.each(slow)("$file: $expression // => $shown", async (example) => {
  const calls = await expectExample(example);
  const { name } = example;
  // a report takes seconds each time
  if (name === "writeReport") return;
  const { parameters } = calls.find((one) => one.name === name)!;
  const checked = Object.entries(face).find(([key]) => key === name)![1];
  const some = someOf(variantsOf(name, parameters), 2, name);
  expect(await elsewhere(() => faultsOf(name, checked as never, some))).toEqual([]);
});
