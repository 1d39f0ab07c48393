import { bench, describe } from "vitest";
import { reconstructTwoByTwo } from "../../src/printed/index.js";

// Goals: four printed percentages at n up to 1,000 in under 50 ms; 20,000 screened with margins
// unknown in under 2 s. The named baseline tries every table of n = 185.

const four = {
  sensitivity: "100",
  specificity: "87.04",
  positivePredictiveValue: "52.27",
  negativePredictiveValue: "100",
};

describe("four percentages, n 185", () => {
  bench("baseline: every table", () => {
    let found = 0;
    const near = (part: number, total: number, percent: number) =>
      total > 0 && Math.abs((100 * part) / total - percent) <= 0.005;
    for (let a = 0; a <= 185; a += 1) {
      for (let b = 0; a + b <= 185; b += 1) {
        for (let c = 0; a + b + c <= 185; c += 1) {
          const d = 185 - a - b - c;
          if (
            near(a, a + c, 100) &&
            near(d, b + d, 87.04) &&
            near(a, a + b, 52.27) &&
            near(d, c + d, 100)
          ) {
            found += 1;
          }
        }
      }
    }
    if (found !== 1) throw new Error(`${found} tables`);
  });
  bench("reconstructTwoByTwo", () => {
    if (reconstructTwoByTwo({ n: 185, printed: four }).count !== 1) throw new Error("not unique");
  });
});

describe("larger tables, margins unknown", () => {
  bench("n 1,000, one decimal", () => {
    reconstructTwoByTwo({
      n: 1000,
      printed: {
        sensitivity: "90.5",
        specificity: "85.2",
        positivePredictiveValue: "61.4",
        negativePredictiveValue: "97.2",
      },
    });
  });
  bench("n 20,000, whole percentages", () => {
    reconstructTwoByTwo({
      n: 20_000,
      printed: {
        sensitivity: "90",
        specificity: "85",
        positivePredictiveValue: "61",
        negativePredictiveValue: "97",
      },
    });
  });
  bench("n 20,000, whole percentages, two printed", () => {
    reconstructTwoByTwo({ n: 20_000, printed: { sensitivity: "80", specificity: "95" } });
  });
});
