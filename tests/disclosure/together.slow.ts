import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coarsen } from "../../src/disclosure/index.js";
import { coarseStudy } from "../../src/study/coarse/coarseStudy.js";
import { studyReport } from "../../src/study/index.js";
import { places, recordedResult } from "../builders/recordedResult.js";
import { Puzzle, Solver } from "./team/solver.js";

const count = fc.oneof({ weight: 3, arbitrary: fc.nat(10) }, fc.integer({ min: 11, max: 90 }));
const counts = fc.array(count, { minLength: places.length + 3, maxLength: places.length + 3 });
const textOf = (children: readonly number[]) =>
  JSON.stringify(studyReport(recordedResult(children)));

describe("a study whose small counts are counted together", () => {
  it("lets each of them be 0, and 10, beside everything: solved in whole numbers", () => {
    let tried = 0;
    fc.assert(
      fc.property(counts, (children) => {
        const { flow, together, conditions } = coarseStudy(recordedResult(children));
        const puzzle = new Puzzle();
        const names = children.slice(0, -2).map((_, at) => `count ${at}`);
        // the unexamined are among the undecided here
        const own = [...children.slice(0, -2), children.at(-1)! + children.at(-2)!];
        names.push("undecided");
        own.forEach((exact, at) => {
          const { low, high } = coarsen(exact);
          puzzle.count(names[at]!, [low, high], exact);
        });
        const isSmall = (name: string) => own[names.indexOf(name)]! <= 10;
        const rows = names.slice(0, places.length);
        const said = (
          list: readonly string[],
          range: { readonly low: number; readonly high: number },
        ) =>
          puzzle.between(
            list.map((name) => [name, 1] as const),
            [range.low, range.high],
            "said",
          );
        if (together.rows !== null) {
          expect(together.rows.counts).toBe(rows.filter(isSmall).length);
          said(rows.filter(isSmall), together.rows.sum);
        }
        if (together.all !== null) said(names.filter(isSmall), together.all.sum);
        // every total that is shown, and that it holds what is true
        said(rows, flow!.compared);
        said(names, flow!.all);
        const { examined, unexamined } = conditions[0]!.counts!;
        const of = (isOut: boolean) =>
          rows.filter((_, at) => (places[at]!.state === "unexamined") === isOut);
        said(of(false), examined);
        said(of(true), unexamined!);
        expect(conditions[0]!.counts!.rows).toEqual(flow!.compared);
        // no part reads more than its whole
        expect(flow!.compared.high).toBeLessThanOrEqual(flow!.all.high);
        expect(puzzle.mistakes()).toEqual([]);
        const targets = names.filter(isSmall);
        const found = new Solver(puzzle).ranges(targets, 0, 10);
        tried += targets.length;
        for (const name of targets) {
          const [least, most] = found.get(name)!;
          expect({ name, least: Math.abs(least), most }).toEqual({ name, least: 0, most: 10 });
        }
      }),
      { numRuns: 40, seed: 3 },
    );
    expect(tried).toBeGreaterThan(200);
  });

  it("reads the same for every secret within what is shown", () => {
    let same = 0;
    let other = 0;
    const changes = fc.array(fc.nat(10), {
      minLength: places.length + 3,
      maxLength: places.length + 3,
    });
    fc.assert(
      fc.property(counts, changes, (children, instead) => {
        const changed = children.map((exact, at) => (exact <= 10 ? instead[at]! : exact));
        // undecided and unexamined are one count
        const both = children.at(-1)! + children.at(-2)!;
        if (coarsen(both).words !== coarsen(changed.at(-1)! + changed.at(-2)!).words) return;
        const [one, two] = [children, changed].map(
          (list) => coarseStudy(recordedResult(list)).together,
        );
        if (JSON.stringify(one) === JSON.stringify(two)) {
          same++;
          expect(textOf(changed)).toBe(textOf(children));
        } else {
          other++;
          expect(textOf(changed)).not.toBe(textOf(children));
        }
      }),
      { numRuns: 90, seed: 7 },
    );
    expect(Math.min(same, other)).toBeGreaterThan(5);
  });
});
