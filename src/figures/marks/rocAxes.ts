import { shareAxis } from "./seriesLayers.js";

export const rocX = {
  field: "x",
  ...shareAxis("False-positive rate, 1 − specificity (%)"),
};

export const rocY = { field: "y", ...shareAxis("Sensitivity (%)") };
