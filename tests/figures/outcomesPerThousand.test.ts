import { describe, expect, it } from "vitest";
import { outcomesPerThousandFigure } from "../../src/figures/index.js";
import { type OutcomePart, placedOutcomes } from "../../src/figures/marks/outcomeMarks.js";
import { cases } from "./cases.js";

const marksOf = (shares: readonly (number | null)[]) => {
  const outcomes = ["rightly-referred", "wrongly-referred", "missed", "rightly-passed"] as const;
  const parts = shares.map(
    (share, at): OutcomePart => ({ outcome: outcomes[at]!, share, words: "" }),
  );
  const { marks } = placedOutcomes([{ of: "1000", parts }]);
  // one more of each part stands in the key
  const count = (kind: string) => marks.filter((mark) => mark.kind === kind).length;
  return [...outcomes.map((kind) => count(kind) - 1), count("open")];
};

describe("a thousand marks", () => {
  it("are as many as the shares, by the largest remainders where these make up all", () => {
    expect(marksOf([0.041, 0.097, 0.012, 0.85])).toEqual([41, 97, 12, 850, 0]);
    // by hand: 40.6, 96.3, 12.4 and 850.7 marks; the remainders .7 and .6 are the largest
    expect(marksOf([0.0406, 0.0963, 0.0124, 0.8507])).toEqual([41, 96, 12, 851, 0]);
  });

  it("leave open what ranges or unknown shares do not take", () => {
    expect(marksOf([0.0039, 0.047, 0, 0.918])).toEqual([3, 47, 0, 918, 32]);
    expect(marksOf([0.04, 0.1, null, null])).toEqual([40, 100, 0, 0, 860]);
  });

  it("are drawn: dashes of whole squares and single marks make up a thousand", () => {
    const { draw } = cases.find(({ name }) => name === "outcomes-per-thousand")!;
    type Layer = {
      readonly mark: { readonly type: string; readonly strokeDash?: readonly [number, number] };
      readonly data: { readonly values: readonly { x: number; x2: number }[] };
    };
    const layers = draw().spec.layer as readonly Layer[];
    const drawn = layers.map(({ mark, data }) => {
      if (mark.type === "point") return data.values.length;
      if (mark.type !== "rule") return 0;
      const [side, gap] = mark.strokeDash!;
      return data.values.reduce((sum, { x, x2 }) => sum + (x2 - x + gap) / (side + gap), 0);
    });
    const [filled, edges, inner, ...others] = drawn;
    // 40.5, 96.5, 12.5 and 850.5: equal remainders go to the first; and one of each in the key
    expect(filled).toBeCloseTo(41 + 1, 6);
    expect(edges).toBeCloseTo(97 + 1, 6);
    expect(inner).toBeCloseTo(97 + 1, 6);
    expect(others.slice(0, 2)).toEqual([12 + 1, 850 + 1]);
  });

  it("say what a mark stands for, and how many, without a picture", () => {
    const { alt, caption } = outcomesPerThousandFigure([
      {
        of: "1000 children screened",
        parts: [{ outcome: "missed", share: 0.01, words: "10 (6 to 17)" }],
        open: "Which of these is not known.",
      },
    ]);
    expect(alt).toBe(
      "What the referral does to 1000, n = 1000. 1000 children screened: passed, with the condition (missed) 10 (6 to 17); Which of these is not known.",
    );
    // the key beside the marks says it, once
    expect(caption).not.toContain("open");
  });
});
