import type { Clusters } from "../../rows/index.js";
import type { ClusterSums } from "./limitModel.js";

/**
 * Sums per child of the units' mean differences and of repeats about them: rows that share child
 * and unit are repeats of one unit.
 */
export function clusterSums(
  test: ArrayLike<number>,
  reference: ArrayLike<number>,
  subjects: Clusters,
  units: Clusters,
): ClusterSums {
  const rows = test.length;
  const testMean = new Float64Array(units.count);
  const referenceMean = new Float64Array(units.count);
  const subjectOf = new Int32Array(units.count);
  for (let row = 0; row < rows; row++) {
    const unit = units.ofRow[row];
    testMean[unit] += test[row] / units.sizes[unit];
    referenceMean[unit] += reference[row] / units.sizes[unit];
    subjectOf[unit] = subjects.ofRow[row];
  }
  const column = () => new Float64Array(subjects.count);
  const sums = {
    units: column(),
    sum: column(),
    squares: column(),
    rows: column(),
    testWithin: column(),
    referenceWithin: column(),
    inverseRows: column(),
    origin: 0,
  };
  for (let unit = 0; unit < units.count; unit++) {
    sums.origin += (testMean[unit] - referenceMean[unit]) / units.count;
  }
  for (let unit = 0; unit < units.count; unit++) {
    const subject = subjectOf[unit];
    const difference = testMean[unit] - referenceMean[unit] - sums.origin;
    sums.units[subject] += 1;
    sums.sum[subject] += difference;
    sums.squares[subject] += difference * difference;
    sums.inverseRows[subject] += 1 / units.sizes[unit];
  }
  for (let row = 0; row < rows; row++) {
    const [subject, unit] = [subjects.ofRow[row], units.ofRow[row]];
    sums.rows[subject] += 1;
    sums.testWithin[subject] += (test[row] - testMean[unit]) ** 2;
    sums.referenceWithin[subject] += (reference[row] - referenceMean[unit]) ** 2;
  }
  return sums;
}
