// All nine parts of the corpus.
import { inventedCohort } from "./first/cohort.js";
import { firstHalf } from "./first/index.js";
import * as folders from "./folders.js";
import type { WrittenLayout } from "./layout.js";
import { thirdPart } from "./third/index.js";

export function allParts(): WrittenLayout[] {
  return [
    ...[...firstHalf(inventedCohort(60, 20261130)), ...folders.secondHalf(), ...thirdPart()],
    ...[...folders.fourthPart(), ...folders.fifthPart(), ...folders.sixthPart()],
    ...[...folders.seventhPart(), ...folders.eighthPart(), ...folders.ninthPart()],
  ];
}
