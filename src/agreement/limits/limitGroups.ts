import { InputError } from "../../results/index.js";
import { type Clusters, childrenOf, sitesOf } from "../../rows/index.js";
import { unitsWithin } from "../unitsWithin.js";
import type { LimitDesign } from "./limitOptions.js";
import type { PairedMeasurements } from "./pairedMeasurements.js";

/** Whose rows they are, and the design that follows. */
export interface LimitGroups {
  readonly sites: Clusters | undefined;
  readonly subjects: Clusters;
  readonly units: Clusters;
  readonly design: LimitDesign;
}

/** Children, sites and eyes of the rows; at least 3 children. */
export function limitGroups(data: PairedMeasurements, rows: number): LimitGroups {
  const caller = "limitsOfAgreement";
  const subjects = childrenOf(caller, data, rows);
  const sites = sitesOf(caller, data, subjects);
  const units = unitsWithin(caller, subjects, data.units, rows);
  const repeated = units.repeated;
  const clustered = subjects.count < units.count;
  if (subjects.count < 3) {
    throw new InputError(`${caller} requires at least 3 subjects, got ${subjects.count}`);
  }
  const design = repeated
    ? clustered
      ? "clustered-repeats"
      : "repeats"
    : clustered
      ? "clustered"
      : "independent";
  return { sites, subjects, units, design };
}
