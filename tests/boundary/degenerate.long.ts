import { describe, expect, it } from "vitest";
import * as face from "../../src/face.js";
import { all, carryOut } from "../docs/exampleRuns.js";
import { elsewhere, faultsOf, variantsOf } from "./degenerate.js";

/** Variants of one call at most, spread evenly, and seconds of the processor; ONLY takes functions by their names. */
const most = Number(process.env.MOST ?? 300);
const seconds = Number(process.env.SECONDS ?? 4);
const only = new RegExp(process.env.ONLY ?? ".");

type Call = (...parameters: unknown[]) => unknown;
const functions = new Map(
  Object.entries(face).filter(
    ([, one]) => typeof one === "function" && !/^class/.test(String(one)),
  ) as [string, Call][],
);
const reached = new Map<string, number>();

describe("a degenerate call is refused, or gives a result of numbers", () => {
  it.each(all.filter(({ name }) => only.test(name)))("$name $expression", async (example) => {
    const { calls } = await carryOut(example);
    const faults: string[] = [];
    for (const { name, parameters, result } of calls) {
      await result;
      const call = functions.get(name);
      // called in the example of another function: once is enough
      if (call === undefined || (reached.has(name) && name !== example.name)) continue;
      const variants = variantsOf(name, parameters);
      const step = Math.max(1, variants.length / most);
      await elsewhere(async () => {
        const start = process.cpuUsage().user;
        for (let at = 0; at < variants.length; at += step) {
          if (process.cpuUsage().user - start > seconds * 1e6) break;
          faults.push(...(await faultsOf(name, call, [variants[Math.floor(at)]!])));
          reached.set(name, (reached.get(name) ?? 0) + 1);
        }
      });
    }
    expect(faults).toEqual([]);
  });

  it.runIf(process.env.ONLY === undefined)("every public function was called", () => {
    const total = [...reached.values()].reduce((sum, count) => sum + count, 0);
    console.info(`${reached.size} functions, ${total} calls`);
    expect([...functions.keys()].filter((name) => !reached.has(name))).toEqual([]);
  });
});
