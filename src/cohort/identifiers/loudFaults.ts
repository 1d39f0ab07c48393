import type { ColumnMapping } from "../columnMapping.js";
import type { Findings, Problem, Readings } from "../types.js";

/** So much of a file broke one rule that the mapping, and not the cells, is probably wrong. */
export interface LoudFault {
  readonly kind: "loud-fault";
  readonly rule: string;
  /** Eyes concerned, of how many. */
  readonly eyes: number;
  readonly of: number;
  /** What it seems to be, and the one change that would help. */
  readonly message: string;
}

const mostSetAside = 0.2;
const bothEyes = "both eyes";
const contradicting = 0.9;
const powerRules: ReadonlySet<string> = new Set([
  ...["not-a-number", "sphere-range", "cylinder-range", "axis-range", "cylinder-sign"],
  "prescription-unclear",
]);

/**
 * Faults of a whole file: more than a fifth of its eyes with a power set aside (declared marks for no reading
 * are no such cells), or a declared sign that nine tenths of the cylinders contradict. A rule that the mapping
 * accepts, with a reason, is none.
 */
export function loudFaults(
  data: Readings | Findings,
  problems: readonly Problem[],
  mapping: ColumnMapping | null,
): LoudFault[] {
  const accepted = new Set(Object.keys(mapping?.accepted ?? {}));
  const powers = powerColumns(mapping, data.kind);
  const wrong = problems.filter(
    ({ action, rule, column }) =>
      action === "set-aside" &&
      powerRules.has(rule) &&
      !accepted.has(rule) &&
      powers.has(column ?? ""),
  );
  const faults: LoudFault[] = [];
  const signs = wrong.filter(({ rule }) => rule === "cylinder-sign");
  let cylinders = signs.length;
  for (const value of data.cylinder) if (value !== 0 && !Number.isNaN(value)) cylinders++;
  if (signs.length > contradicting * cylinders) {
    const declared = /^[+\d]|^\.\d/.test(signs[0].value) ? "minus" : "plus";
    const other = declared === "minus" ? "plus" : "minus";
    faults.push({
      kind: "loud-fault",
      rule: "cylinder-sign",
      eyes: signs.length,
      of: cylinders,
      message: `the cylinders seem to be written in ${other}, not ${declared}: the mapping should say "cylinder": "${other}"`,
    });
  }
  const others = wrong.filter(({ rule }) => faults.length === 0 || rule !== "cylinder-sign");
  // a cell of both eyes is listed once for each of them
  const eyes = new Set(
    others.map(({ row, column }, at) => {
      const side = powers.get(column ?? "");
      return side === bothEyes ? at : `${row} ${side}`;
    }),
  );
  if (eyes.size > mostSetAside * data.n) {
    const [rule, times] = mostFrequent(others.map((problem) => problem.rule));
    faults.push({
      kind: "loud-fault",
      rule,
      eyes: eyes.size,
      of: data.n,
      message: `${cure[rule] ?? "the mapping does not seem to fit this file"} (${rule}, ${times} cells)`,
    });
  }
  return faults;
}

const cure: Readonly<Record<string, string>> = {
  "not-a-number":
    'powers are no numbers: a decimal comma ("text": { "decimal": "," }), words for no reading ("marks"), or codes for empty ("missing") may not be declared',
  "sphere-range":
    "spheres are out of any range: the mapping may take another column for the sphere",
  "cylinder-range":
    "cylinders are out of any range: the mapping may take another column for the cylinder",
  "axis-range": "axes are out of 0 to 180: the mapping may take another column for the axis",
  "cylinder-sign": 'cylinders have both signs: the mapping should say "cylinder": "either"',
  "prescription-unclear":
    "the notation cannot be read: look at what it holds beside sphere, cylinder and axis",
};

function mostFrequent(rules: readonly string[]): [string, number] {
  const counts = new Map<string, number>();
  for (const rule of rules) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return [...counts].reduce((most, one) => (one[1] > most[1] ? one : most));
}

/** The columns of powers, and which eye of a row each is of. */
function powerColumns(
  mapping: ColumnMapping | null,
  kind: "readings" | "findings",
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  (mapping?.[kind] ?? []).forEach((block, at) => {
    for (const side of ["columns", "right", "left"] as const) {
      const part = block[side];
      for (const name of [part?.sphere, part?.cylinder, part?.axis, part?.prescription]) {
        if (name === undefined) continue;
        const both = block.eyesInCell !== undefined && name === part?.prescription;
        found.set(name, both ? bothEyes : `${at} ${side}`);
      }
    }
  });
  return found;
}
