import type { ChildColumns, Coded, Findings, Readings } from "../types.js";
import { verificationReasons } from "../types.js";

type Programme = Pick<
  ChildColumns,
  "programmeDecision" | "invited" | "came" | "selfPresented" | "flags"
>;

/**
 * What the programme decided of each child, by its last line that says so; who was asked, who came; the
 * reading file's own columns likewise.
 */
export function childProgramme(
  n: number,
  readings: Readings,
  childOfReading: Int32Array,
  findings: Findings,
  findingRow: ChildColumns["findingRow"],
): Programme {
  const last = <Word extends string>(column: Coded<Word> | null | undefined) => {
    if (column == null) return null;
    const unknown = (column.labels as readonly string[]).indexOf("unknown");
    const codes = new Uint8Array(n).fill(unknown);
    for (let row = 0; row < readings.n; row++) {
      if (column.codes[row] !== unknown) {
        codes[childOfReading[readings.subject.codes[row]]] = column.codes[row];
      }
    }
    return { codes, labels: column.labels };
  };
  const flags = readings.flags?.map(({ label, values }) => {
    const words = Array.from({ length: n }, () => "");
    for (let row = 0; row < readings.n; row++) {
      const word = values.labels[values.codes[row]];
      const child = childOfReading[readings.subject.codes[row]];
      if (word !== "" && child >= 0) words[child] = word;
    }
    const labels = [...new Set(words)];
    const codeOf = new Map(labels.map((word, code) => [word, code]));
    const codes = Int32Array.from(words, (word) => codeOf.get(word)!);
    return { label, values: { codes, labels } };
  });
  const { selfPresented } = findings;
  const come = (child: number): number => {
    const words = (["right", "left"] as const).flatMap((side) => {
      const row = findingRow[side][child];
      return row < 0 ? [] : [selfPresented!.labels[selfPresented!.codes[row]]];
    });
    const word = words.includes("yes") ? "yes" : words.includes("no") ? "no" : "unknown";
    return selfPresented!.labels.indexOf(word);
  };
  return {
    programmeDecision: last(readings.programmeDecision),
    invited: last(readings.invited),
    came: last(readings.came),
    ...(flags === undefined ? {} : { flags }),
    selfPresented:
      selfPresented == null
        ? null
        : {
            codes: Uint8Array.from({ length: n }, (_, child) => come(child)),
            labels: selfPresented.labels,
          },
  };
}

/**
 * Where no file says why a child was examined, it follows from the decision and who was asked: the
 * referred and the unable came for that, a pass who was asked was drawn, one who came by himself did so.
 */
export function reasonsByDecision(
  reasons: Uint8Array,
  verification: Uint8Array,
  { programmeDecision, invited, selfPresented }: Programme,
): void {
  if (programmeDecision == null) return;
  const word = (column: Coded | null | undefined, child: number) =>
    column == null ? "unknown" : column.labels[column.codes[child]];
  const reasonOf = (child: number) => {
    const decision = word(programmeDecision, child);
    if (decision === "refer" || decision === "unable") return "referred";
    if (decision === "unknown") return "unknown";
    if (word(invited, child) === "yes") return "sampled";
    return word(selfPresented, child) === "yes" || word(invited, child) === "no"
      ? "self-presented"
      : "unknown";
  };
  const unknown = verificationReasons.indexOf("unknown");
  for (let child = 0; child < reasons.length; child++) {
    if (reasons[child] !== unknown || verification[child] !== 0) continue;
    reasons[child] = verificationReasons.indexOf(reasonOf(child));
  }
}
