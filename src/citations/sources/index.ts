import type { Source } from "../source.js";
import { agreementSources } from "./agreement.js";
import { curveSources } from "./curves.js";
import { proportionSources } from "./proportions.js";
import { verificationSources } from "./verification.js";

/** Every source by its key. */
export const sources: ReadonlyMap<string, Source> = new Map(
  [...proportionSources, ...verificationSources, ...agreementSources, ...curveSources].map(
    (source) => [source.key, source],
  ),
);

/** The toolkit itself, as CITATION.cff has it. */
export const toolkit: Source = {
  key: "meridional",
  type: "software",
  authors: ["The Meridional authors"],
  title: "Meridional: a research-notebook toolkit for refraction datasets",
  year: null,
  journal: null,
  volume: null,
  pages: null,
  doi: null,
};
