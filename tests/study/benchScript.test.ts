import { expect, it } from "vitest";
import { shareAtOdds } from "../../src/accuracy/index.js";
import { benchScript } from "../../src/study/publish/benchScript.js";
import type { BenchData } from "../../src/study/publish/benchPage.js";
import type { BenchStop } from "../../src/study/report/benchStops.js";
import { partOf } from "../builders/partOf.js";
import { scriptPage } from "../builders/scriptPage.js";

const ratio = { value: 4.5, low: 3, high: 6.75 };
const share = { value: 0.9, low: 0.8, high: 0.95 };
const stop = (limit: number, words: string, prespecified: boolean): BenchStop =>
  partOf<BenchStop>({
    limit,
    words,
    prespecified,
    corrected: null,
    table: { truePositive: 45, falsePositive: 20, falseNegative: 5, trueNegative: 80 },
    point: { sensitivity: 0.9, specificity: 0.8 },
    sensitivity: share,
    specificity: share,
    positivePredictiveValue: share,
    negativePredictiveValue: share,
    positiveRatio: ratio,
    negativeRatio: { value: 0.125, low: 0.1, high: 0.2 },
  });
const bench = (id: string): BenchData => ({
  kind: "bench",
  id,
  quantity: "M",
  relation: "<=",
  fixedRelation: "<=",
  axis: { from: -3, to: -2.5, width: 400 },
  stops: [stop(-3, "≤ −3.00 D </script>", true), stop(-2.5, "≤ −2.50 D", false)],
  uncorrected: "none was computed",
  plane: { x: 10, y: 20, width: 100, height: 50 },
  samplePrevalence: 1 / 3,
  decimal: ".",
});

// Under a mutant the text names the counter of the tool, which a page does not have.
it.skipIf(process.env.MUTATION_TESTS)(
  "is text that runs alone, for every bench, by the library's own formula",
  () => {
    const script = benchScript([bench("a"), bench("b")]);
    expect(script).not.toContain("</script");
    const { at, set } = scriptPage([bench("a"), bench("b")]);
    for (const id of ["a", "b"]) {
      expect(at(`bench-${id}-limit-shown`).textContent).toBe("≤ −3.00 D </script>");
      expect(at(`bench-${id}-sensitivity`).textContent).toBe("90.0 % (80.0 to 95.0)");
      // by hand: 20 of 100 across, 45 of 50 up
      expect(at(`bench-${id}-marker`).attributes).toMatchObject({
        visibility: "visible",
        cy: "25",
      });
      expect(Number(at(`bench-${id}-marker`).attributes.cx)).toBeCloseTo(30, 9);
      set(`bench-${id}-prevalence`, "10");
      // by hand: odds 1/9 times 4.5 are 1 to 2, and so on
      expect(at(`bench-${id}-positive`).textContent).toBe("33.3 % (25.0 to 42.9)");
      expect(shareAtOdds(4.5, 1 / 9)).toBeCloseTo(1 / 3, 12);
      // by hand, of 1000 where 10 % have it, sensitivity and specificity 90 % (80 to 95)
      expect(at(`bench-${id}-rightly`).textContent).toBe("90 (80 to 95)");
      expect(at(`bench-${id}-missed`).textContent).toBe("10 (5 to 20)");
      expect(at(`bench-${id}-wrongly`).textContent).toBe("90 (45 to 180)");
      expect(at(`bench-${id}-referred`).textContent).toBe("180");
      for (const [name, value] of [
        ["capacity", "150"],
        ["weight", "20"],
      ]) {
        set(`bench-${id}-${name}`, value);
      }
      expect(at(`bench-${id}-beyond`).textContent).toBe("30");
      expect(at(`bench-${id}-burden`).textContent).toBe("290");
      // who hears the slider hears the result
      const slider = at(`bench-${id}-limit`);
      expect(slider.attributes["aria-valuetext"]).toBe(
        "≤ −3.00 D </script>: sensitivity 90.0 % (80.0 to 95.0), specificity 90.0 % (80.0 to 95.0)",
      );
      // between two readings the decisions are those of the stricter one
      set(`bench-${id}-limit`, "-2.75");
      expect(at(`bench-${id}-limit-shown`).textContent).toBe("≤ −2.75 D");
      expect(at(`bench-${id}-other-limit-shown`).textContent).toBe("≤ −3.00 D </script>");
      const snippet = at(`bench-${id}-snippet`).attributes.href;
      expect(JSON.parse(decodeURIComponent(snippet.split(",").slice(1).join(",")))).toEqual({
        referWhen: { quantity: "M", relation: "<=", limit: -2.75 },
      });
    }
  },
);

it("is the source that runs here, not a file built earlier", () => {
  expect(benchScript([bench("a")])).toContain(shareAtOdds.toString());
});
