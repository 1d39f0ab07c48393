import type { TableModel } from "../../src/results/index.js";

/** A table with every kind of cell. */
export const wilson = { kind: "estimate", level: 0.95, method: "wilson" } as const;
export const exampleTable: TableModel = {
  kind: "table",
  title: 'Accuracy at <= -3.00 D & "more"',
  columns: [
    { label: "measure", format: "text" },
    { label: "n", format: "count" },
    { label: "value", format: "proportion" },
    { label: "bias", unit: "D", format: "dioptres" },
  ],
  rows: [
    { heading: true, cells: ["All eyes", null, null, null] },
    {
      cells: ["sensitivity", 1071, { ...wilson, value: 0.85, low: 0.79, high: 0.9 }, -0.3757],
    },
    {
      cells: [
        "area",
        20000,
        { ...wilson, value: 0.97534, low: 0.96571, high: 0.98497 },
        { ...wilson, value: -3.0874, low: -3.3113, high: -2.8853 },
      ],
    },
    {
      cells: [
        "=1+1",
        { kind: "suppressed", reason: "small" },
        { kind: "undefined", reason: "no child was examined" },
        { kind: "undefined", reason: "no child was examined", low: 3.25 },
      ],
    },
  ],
  notes: ["100 % of {rows} | kept_all"],
};
