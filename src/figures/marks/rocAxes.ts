import { shareAxis } from "./seriesLayers.js";

/** An axis of shares with its labels in percent, as tables and sentences have rates. */
function percentAxis(title: string) {
  const { axis, ...others } = shareAxis(title) as { readonly axis: { readonly format: string } };
  const { format: _, ...shared } = axis;
  return { ...others, axis: { ...shared, labelExpr: "round(100 * datum.value)" } };
}

export const rocX = {
  field: "x",
  ...percentAxis("False-positive rate, 1 − specificity (%)"),
};

export const rocY = { field: "y", ...percentAxis("Sensitivity (%)") };
