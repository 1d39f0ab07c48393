import type { Estimate, TableModel, Undefined } from "../../results/index.js";
import { groupingWord } from "./groupingWord.js";
import { count, text } from "./tableParts.js";

interface GroupLimits {
  readonly bias: Estimate | Undefined;
  readonly sd: Estimate | Undefined;
  readonly lower: Estimate | Undefined;
  readonly upper: Estimate | Undefined;
}

/** Groups of M, from the result or as the public may see them. */
interface Grouping {
  readonly by: string;
  readonly role: "confirmatory" | "exploratory";
  readonly groups: readonly {
    readonly group: string;
    /** Absent where the reader may not know them. */
    readonly children?: number;
    readonly eyes?: number;
    /** Null where they are not shown. */
    readonly limits: GroupLimits | Undefined | null;
  }[];
}

/** Bias and limits of M in the groups of the protocol, one table a grouping. */
export function agreementByGroup(groupings: readonly Grouping[]): TableModel[] {
  return groupings.map(({ by, role, groups }) => {
    const dioptres = (label: string) => ({ label, unit: "D", format: "dioptres" }) as const;
    const counted = groups.every(({ children }) => children !== undefined);
    return {
      kind: "table",
      title: `Agreement of M by ${by} (${role})`,
      columns: [
        text(groupingWord(by)),
        ...(counted ? [count("Children"), count("Eyes")] : []),
        dioptres("Bias"),
        dioptres("SD"),
        dioptres("Lower limit"),
        dioptres("Upper limit"),
      ],
      rows: groups.map(({ group, children, eyes, limits }) => ({
        cells: [
          group,
          ...(counted ? [children!, eyes!] : []),
          ...(limits === null
            ? Array(4).fill("not shown")
            : "reason" in limits
              ? [limits, limits, limits, limits]
              : [limits.bias, limits.sd, limits.lower, limits.upper]),
        ],
      })),
      notes: [
        role === "confirmatory"
          ? "Confirmatory: the protocol planned the comparison of these groups."
          : "Exploratory: not part of the pre-specified comparison. The smaller the group, the further its limits may lie from those of more children.",
      ],
    };
  });
}
