import { expect, test } from "vitest";
import type { Protocol } from "../../src/protocol/index.js";
import { shownTotals } from "../../src/study/report/shownTotals.js";
import type { StudyResult } from "../../src/study/run/studyResult.js";
import { partOf } from "../builders/partOf.js";

interface Numbers {
  readonly audience?: Protocol["audience"];
  readonly eye?: Protocol["eye"];
  readonly unit?: Protocol["unit"];
  /** Examined, and of them without a decision; on the curve. */
  readonly counted: number;
  readonly undecidable?: number;
  readonly curve: number;
  readonly eyes: readonly number[];
  readonly plane?: number;
}

function result({ audience = "public", eye = "right", unit = "eye", ...numbers }: Numbers) {
  const { counted, undecidable = 0, curve, eyes, plane } = numbers;
  return partOf<StudyResult>({
    protocol: { audience, eye, unit },
    agreement: eyes.map((n) => ({ limits: { n } })),
    astigmatism: plane === undefined ? null : { summary: { n: plane } },
    conditions: [
      {
        n: counted,
        table: { truePositive: counted - 40, trueNegative: 40 },
        undecidable,
        curve: { kind: "roc-curve", n: curve },
      },
    ],
  });
}

// by hand: 255 examined, 253 of them with a difference, 12 without a decision, 236 on the curve
const few = { counted: 255, undecidable: 12, curve: 236, eyes: [253, 241, 220], plane: 220 };

test("for the public, no number that differs by 1 to 10 from one of the counts or from another", () => {
  // 255 - 253 = 2; 243 - 241 = 2; 243 - 236 = 7
  expect(shownTotals(result(few))).toEqual({
    agreement: [false, false, true],
    plane: true,
    curves: [false],
  });
});

test("a journal sees every number; equal numbers and far ones are shown to all", () => {
  expect(shownTotals(result({ ...few, audience: "journal" }))).toEqual({
    agreement: [true, true, true],
    plane: true,
    curves: [true],
  });
  const far = { counted: 255, curve: 255, eyes: [255, 240, 240], plane: 240 };
  expect(shownTotals(result(far))).toEqual({
    agreement: [true, true, true],
    plane: true,
    curves: [true],
  });
});

test("two eyes a child and counts of children are two series", () => {
  const both = { counted: 130, curve: 130, eyes: [253, 250], eye: "both", unit: "child" } as const;
  expect(shownTotals(result(both))).toEqual({
    agreement: [true, false],
    plane: true,
    curves: [true],
  });
});
