import { suppressSmallCells } from "../../privacy/index.js";
import type { TableModel } from "../../results/index.js";
import type { StudyResult } from "../run/studyResult.js";
import { shownTotals } from "./shownTotals.js";
import { hidden } from "./studyTables.js";
import { count, text } from "./tableParts.js";

/** Bias and limits of M in the groups of the protocol, one table a grouping. */
export function agreementByGroup(result: StudyResult): TableModel[] {
  const { agreement, protocol } = result;
  const at = agreement.findIndex(({ quantity }) => quantity === "M");
  const { subgroups } = agreement[at]!;
  // the groups add up to the number of eyes
  const isCounted = shownTotals(result).agreement[at];
  return subgroups.map(({ by, role, groups }) => {
    const dioptres = (label: string) => ({ label, unit: "D", format: "dioptres" }) as const;
    const table: TableModel = {
      kind: "table",
      title: `Agreement of M by ${by} (${role})`,
      columns: [
        text(by === "age" ? "Age" : "Site"),
        count("Children"),
        count("Eyes"),
        dioptres("Bias"),
        dioptres("SD"),
        dioptres("Lower limit"),
        dioptres("Upper limit"),
      ],
      rows: groups.map(({ group, children, eyes, limits }) => ({
        cells: [
          group,
          isCounted ? children : hidden,
          isCounted ? eyes : hidden,
          ...(limits.kind === "undefined"
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
    // the sums over groups are known from the table of agreement
    return protocol.audience === "public" ? suppressSmallCells(table, { sums: "columns" }) : table;
  });
}
