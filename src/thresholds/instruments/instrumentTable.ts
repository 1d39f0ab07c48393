import {
  type Audience,
  caution,
  shownTo,
  type TableCell,
  type TableModel,
  type TableRow,
} from "../../results/index.js";
import { limitWords } from "../../rows/index.js";
import type { InstrumentComparison } from "./compareInstruments.js";

/**
 * A comparison of instruments as one table: each against the reference, then each pair. For the public
 * (default) limits are bias ± SDs and the share within the acceptable difference is left out where fewer than
 * 11 rows are on one side of it; a journal sees percentile limits and all shares.
 *
 * @param comparison from `compareInstruments`
 *
 * @example
 * instrumentTable(compareInstruments({ instruments: { a: [1, 2, 3, 4, 6], b: [1, 2, 4, 4, 5] }, reference: [1, 2, 3, 4, 5] })).rows.length // => 5
 */
export function instrumentTable(
  comparison: InstrumentComparison,
  options: { readonly audience?: Audience } = {},
): TableModel {
  const { instruments, pairs, n, subjects, rows, level, acceptable, condition } = comparison;
  const audience = shownTo(options.audience, comparison);
  const limitsOf = ({ percentile, lower, upper }: (typeof instruments)[number]["agreement"]) =>
    audience === "journal" && percentile.kind !== "undefined" ? percentile : { lower, upper };
  const withinOf = (within: (typeof instruments)[number]["within"]): TableCell => {
    const inside = within.kind === "estimate" ? Math.round(within.value * n) : n;
    const isSmall = Math.min(inside, n - inside) < 11;
    return audience === "public" && isSmall
      ? { kind: "suppressed", reason: "a count below 11" }
      : within;
  };
  const heading = (text: string): TableRow => ({ cells: [text], heading: true });
  const against = instruments.map(
    ({ name, agreement, within, area, repeatability }): TableRow => ({
      cells: [
        name,
        agreement.bias,
        limitsOf(agreement).lower,
        limitsOf(agreement).upper,
        withinOf(within),
        repeatability?.coefficient ?? null,
        area,
        null,
      ],
    }),
  );
  const between = pairs.map(
    ({ first, second, agreement, nearer, area }): TableRow => ({
      cells: [
        `${first} minus ${second}`,
        agreement.bias,
        limitsOf(agreement).lower,
        limitsOf(agreement).upper,
        null,
        null,
        area,
        nearer,
      ],
    }),
  );
  return {
    kind: "table",
    title: `${instruments.map(({ name }) => name).join(", ")}: the same ${n} eyes of ${subjects} children`,
    columns: [
      { label: "Comparison", format: "text" },
      { label: "Bias", unit: "D", format: "dioptres" },
      { label: "Lower limit", unit: "D", format: "dioptres" },
      { label: "Upper limit", unit: "D", format: "dioptres" },
      { label: `Within ${acceptable} D`, format: "percent" },
      { label: "Repeatability coefficient", unit: "D", format: "dioptres" },
      { label: "Area, or its difference", format: "proportion" },
      {
        label: "Difference of the mean distance from the reference",
        unit: "D",
        format: "dioptres",
      },
    ],
    rows: [
      heading("Against the reference (instrument minus reference)"),
      ...against,
      heading("Against each other (first minus second)"),
      ...between,
    ],
    notes: [
      `Intervals of one column hold together at the level ${level} (Bonferroni).`,
      `${rows - n} of ${rows} rows are left out, because an instrument or the reference has no value in them: ${instruments
        .map(({ name, missing }) => `${name} ${missing}`)
        .join(", ")}, reference ${comparison.withoutReference}.`,
      audience === "journal"
        ? "Limits are percentiles of the differences."
        : "Limits are bias ± SDs, right if the differences are normal.",
      ...(condition === null
        ? []
        : [
            `Areas are for a reference of ${limitWords(condition)}; a difference is first minus second.`,
          ]),
      "Distance: mean of |instrument - reference|; below 0 the first is nearer.",
      caution,
    ],
  };
}
