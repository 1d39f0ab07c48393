import { sampleRankCorrelation } from "simple-statistics";
import type { CodedTable } from "../../cohort/index.js";
import { plainNumber } from "./columnFacts.js";
import type { DetectedColumn } from "./detected.js";

/** Of a rank correlation times the root of n - 1, which is about standard normal where nothing depends on it. */
const clear = 3.3;

/**
 * The more an eye is ametropic the less it sees: decimal acuity falls then, and logMAR rises. Where the numbers of
 * both eyes say the same, and clearly, they say how acuity is written; else it stays a question.
 */
export function withAcuities(
  columns: readonly DetectedColumn[],
  table: CodedTable,
): DetectedColumn[] {
  const open = columns.filter(
    ({ is, notation, questions, facts }) =>
      is === "acuity" &&
      notation === null &&
      questions.some(({ key }) => key === "notation") &&
      facts.numbers.share > 0.9 &&
      facts.numbers.low > 0 &&
      facts.numbers.high <= 2,
  );
  const said = open.map(towards);
  const [first] = said;
  if (first === undefined || first === null || said.some((one) => one !== first))
    return [...columns];
  return columns.map((column) =>
    open.includes(column)
      ? {
          ...column,
          notation: first,
          because: `by its name, and ${first === "decimal" ? "lower" : "higher"} the stronger the refraction of its eye is`,
          questions: column.questions.filter(({ key }) => key !== "notation"),
        }
      : column,
  );

  function towards(acuity: DetectedColumn): "decimal" | "logMAR" | null {
    const of = (is: "sphere" | "cylinder") =>
      columns.findIndex((one) => one.is === is && one.eye === acuity.eye);
    const [sphere, cylinder] = [of("sphere"), of("cylinder")];
    if (sphere < 0 || cylinder < 0) return null;
    const at = columns.indexOf(acuity);
    const [seen, strong]: [number[], number[]] = [[], []];
    for (let row = 0; row < Math.min(table.n, 5000); row++) {
      const [value, s, c] = [at, sphere, cylinder].map((one) => {
        const { codes, labels } = table.columns[one];
        return plainNumber(labels[codes[row]]);
      });
      if (Number.isNaN(value + s + c)) continue;
      seen.push(value);
      strong.push(Math.abs(s + c / 2) + Math.abs(c) / 2);
    }
    if (seen.length < 20 || new Set(seen).size < 3) return null;
    const z = sampleRankCorrelation(seen, strong) * Math.sqrt(seen.length - 1);
    if (Math.abs(z) < clear) return null;
    return z < 0 ? "decimal" : "logMAR";
  }
}
