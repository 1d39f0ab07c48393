import { interval } from "./studyReport.js";
import type { StudyResult } from "./studyResult.js";

/** A study in at most ten lines, for a terminal. */
export function summaryLines(result: StudyResult): string[] {
  const { protocol, flow, agreement, conditions } = result;
  const box = (id: string) => flow.boxes.find((entry) => entry.id === id);
  const all = box("all");
  const excluded = flow.boxes.filter(({ role, eyes }) => role === "excluded" && eyes > 0);
  const reasons = excluded.map(({ label, eyes }) => `${label.toLowerCase()} ${eyes}`).join(", ");
  const M = agreement.find(({ quantity }) => quantity === "M")!.limits;
  const rows = protocol.unit === "child" ? "children" : "eyes";
  return [
    protocol.statement ?? protocol.title,
    `Children ${all?.children}, eyes ${all?.eyes}; eyes left out: ${reasons || "none"}.`,
    `Compared: ${protocol.eye} ${rows}, ${M.n}.`,
    `M, test minus reference: bias ${interval(M.bias, "D", 1)}; limits of agreement ${interval(M.lower, "D", 1)} and ${interval(M.upper, "D", 1)}.`,
    ...conditions.map(
      ({ title, referWhen, role, accuracy, area }) =>
        `${title} (${role}), referred at ${referWhen}: sensitivity ${interval(accuracy.sensitivity, "%", 100)}, specificity ${interval(accuracy.specificity, "%", 100)}, area ${interval(area, "", 1, 3)}.`,
    ),
  ].slice(0, 10);
}
