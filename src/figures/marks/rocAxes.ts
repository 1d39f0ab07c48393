import { shareAxis } from "./seriesLayers.js";

export const rocX = {
  field: "x",
  ...shareAxis("False-positive rate, 1 − specificity (proportion)"),
};

export const rocY = { field: "y", ...shareAxis("Sensitivity (proportion)") };
