import { createRandom } from "../../../src/inference/index.js";

/** A sound small file that the mutations start from. */
const sound = [
  "subject,eye,age,sphere,cylinder,axis,se",
  "a,OD,6,-1.25,-0.50,180,-1.50",
  "a,OS,6,-1.00,-0.75,5,-1.375",
  "b,OD,7,+2.00,0.00,0,2.00",
  "b,OS,7,1.75,-0.25,90,1.625",
  "c,OD,5,,,,",
  "",
].join("\n");

const inserts = [
  ",",
  ";",
  '"',
  "\n",
  "\r",
  "\t",
  "-",
  "x",
  "9",
  "\u2212",
  "\u0000",
  "é",
  "'",
  "#",
  ".5",
  "1e9",
];

/** The i-th text of a seed: the sound file with one to four mutations. */
export function mutatedText(seed: number, index: number): string {
  const random = createRandom(seed, index);
  const pick = <T>(list: readonly T[]): T => list[random.integer(list.length)];
  let text = sound;
  for (let count = 1 + random.integer(4); count > 0; count--) {
    const at = random.integer(text.length + 1);
    const length = 1 + random.integer(6);
    const lines = text.split("\n");
    const line = random.integer(lines.length);
    switch (random.integer(7)) {
      case 0:
        text = text.slice(0, at) + pick(inserts) + text.slice(at);
        break;
      case 1:
        text = text.slice(0, at) + text.slice(at + length);
        break;
      case 2:
        text = text.slice(0, at) + pick(inserts) + text.slice(at + 1);
        break;
      case 3:
        lines.splice(line, 1);
        text = lines.join("\n");
        break;
      case 4:
        lines.splice(line, 0, pick(lines));
        text = lines.join("\n");
        break;
      case 5: {
        const cells = lines[line].split(",");
        cells[random.integer(cells.length)] = pick([
          "",
          "888",
          "__proto__",
          "OU",
          "-174",
          "1175",
          "plano",
          "99",
        ]);
        lines[line] = cells.join(",");
        text = lines.join("\n");
        break;
      }
      default:
        text = text.slice(0, at);
    }
  }
  return text;
}

export const mutatedColumns = {
  kind: "columns",
  version: 1,
  age: "years",
  missing: ["888"],
  columns: { subject: "subject", eye: "eye", age: "age" },
  findings: [
    { columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis", statedEquivalent: "se" } },
  ],
} as const;

/** Reads `count` mutated texts through the readers' own checks; what is not an InputError is a fault. */
export async function readMutated(seed: number, count: number) {
  const { InputError } = await import("../../../src/results/index.js");
  const { readFindings } = await import("../../../src/cohort/index.js");
  let accepted = 0;
  let withProblems = 0;
  const faults: { index: number; message: string }[] = [];
  for (let index = 0; index < count; index++) {
    try {
      const text = mutatedText(seed, index);
      const { n, problems, sphere, axis } = await readFindings(
        { text },
        { columns: mutatedColumns },
      );
      accepted++;
      if (problems.length > 0) withProblems++;
      const wrong =
        sphere.some((value) => Math.abs(value) > 40) || axis.some((value) => value > 180);
      if (n === 0 || wrong) faults.push({ index, message: "an impossible value was accepted" });
    } catch (error) {
      if (!(error instanceof InputError)) faults.push({ index, message: String(error) });
    }
  }
  return { seed, count, accepted, withProblems, faults };
}
