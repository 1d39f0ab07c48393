import type { ParticipantFlow } from "../../cohort/index.js";
import type { TableModel } from "../../results/index.js";

/** The participant flow as a table; a part stands below the box it belongs to, indented. */
export function flowTable({ boxes }: ParticipantFlow): TableModel {
  const depth = (id: string | null): number => {
    const box = boxes.find((candidate) => candidate.id === id);
    return box === undefined ? 0 : 1 + depth(box.partOf);
  };
  return {
    kind: "table",
    title: "participant flow",
    columns: [
      { label: "", format: "text" },
      { label: "children", format: "count" },
      { label: "eyes", format: "count" },
    ],
    rows: boxes
      .filter(({ children, eyes }) => children > 0 || eyes > 0)
      .map(({ label, partOf, children, eyes }) => ({
        cells: [`${"\u2003".repeat(depth(partOf))}${label}`, children, eyes],
      })),
    notes: ["Boxes with nobody in them are left out."],
  };
}
