import { shareAxis } from "./seriesLayers.js";

/** An axis of shares with its labels in percent, as tables and sentences have rates. */
function percentAxis(title: string) {
  const axis = shareAxis(title) as { readonly axis: object };
  const labels = { values: [0, 0.2, 0.4, 0.6, 0.8, 1], labelExpr: "round(100 * datum.value)" };
  return { ...axis, axis: { ...axis.axis, format: undefined, ...labels } };
}

export const rocX = {
  field: "x",
  ...percentAxis("False-positive rate, 1 − specificity (%)"),
};

export const rocY = { field: "y", ...percentAxis("Sensitivity (%)") };
