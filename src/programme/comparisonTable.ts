import type { Audience } from "../privacy/index.js";
import { caution, shownTo, type TableModel } from "../results/index.js";
import type { ProgrammeComparison } from "./compareProgrammes.js";
import type { ProgrammeMeasureId } from "./programmeMeasures.js";
import { shownMeasures } from "./shownMeasures.js";

/**
 * Two programmes as one table: every figure of both, the difference, and the difference standardised for
 * age. The public (default) sees no figure behind which a count of either programme is below 11.
 *
 * @param comparison from `compareProgrammes`
 *
 * @example
 * const year = describeProgramme({ decision: ["refer", "pass"], condition: [true, null], reason: ["referred", "not-examined"] });
 * comparisonTable(compareProgrammes(year, year), { audience: "journal" }).columns.length // => 5
 */
export function comparisonTable(
  comparison: ProgrammeComparison,
  options: { readonly audience?: Audience } = {},
): TableModel {
  const { names, measures, standardisedBy, notes } = comparison;
  const shown = shownOfBoth(comparison, shownTo(options.audience, comparison));
  const out = measures.filter(({ id }) => !shown.has(id)).map(({ words }) => words);
  return {
    kind: "table",
    title: `${names[0]} and ${names[1]}`,
    columns: [
      { label: "Figure", format: "text" },
      { label: names[0], format: "number" },
      { label: names[1], format: "number" },
      { label: "Difference", format: "number" },
      { label: `Difference, standardised for ${standardisedBy ?? "age"}`, format: "number" },
    ],
    rows: measures
      .filter(({ id }) => shown.has(id))
      .map(({ words, unit, first, second, difference, standardised }) => ({
        cells: [words, first, second, difference, standardised],
        format: unit === "share" ? "percent" : "number",
      })),
    notes: [
      ...notes,
      ...(out.length === 0
        ? []
        : [`Not shown, as a count behind it is below 11: ${out.join("; ")}.`]),
      caution,
    ],
  };
}

/** Figures that the audience may see of both programmes, their age bands included. */
export function shownOfBoth(
  { programmes, standardisedBy }: ProgrammeComparison,
  audience: Audience,
): ReadonlySet<ProgrammeMeasureId> {
  const sets = programmes.flatMap(({ overall, groupings }) => {
    const bands = groupings.find(({ by }) => by === standardisedBy)?.groups;
    return [[overall], ...(bands === undefined ? [] : [bands])].map((groups) =>
      shownMeasures(groups, audience),
    );
  });
  return new Set([...sets[0]].filter((id) => sets.every((set) => set.has(id))));
}
