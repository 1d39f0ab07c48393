import { dateColumn } from "./dateColumn.js";
import type { DetectedColumn, Holds, Question } from "./detected.js";
import { hasMeasurements, measuredRoles } from "./measurementKind.js";
import { dateWords, eitherDateWords, mayBeDate, measuredDateWords } from "./nameWords.js";
import type { Role } from "./roles.js";
import * as words from "./vocabulary/index.js";
import { anyOf } from "./vocabulary/index.js";

/** What only the other columns, or the kind of the file, make doubtful. */
export function doubtsOf(
  column: DetectedColumn,
  columns: readonly DetectedColumn[],
  holds: readonly Holds[] | null,
  dates: readonly DetectedColumn[],
): Question[] {
  const { is, of } = column;
  const dated = columns.filter(
    (one) => one.is === "date" || one.is === "day" || one.is === "other-date",
  );
  const clear = columns.some(
    (one) => one.is === "date" && measuredDateWords.test(one.facts.words) && one.of === of,
  );
  const only = dated.length === 1 || (!clear && eitherDateWords.test(column.facts.words));
  if (is === "other-date" && only && hasMeasurements(columns)) {
    const ask = "whether this date is that of the measurement";
    return [{ key: "is", ask, allowed: ["date", "other-date"] }];
  }
  if (is === "date" && isLongBefore(column, dates)) {
    const ask = "whether this date, years before the others, is that of birth";
    return [{ key: "is", ask, allowed: ["birth-date", "date", "other-date"] }];
  }
  if (is === "date" && !hasMeasurements(columns) && !measuredDateWords.test(column.facts.words)) {
    const ask = "whether this date of a file without measurements is that of a visit";
    return [{ key: "is", ask, allowed: ["other-date", "date", "birth-date"] }];
  }
  if (is === "date" && isRival(column, columns)) {
    const ask = "which of several dates is that of the measurement; is this one";
    return [{ key: "is", ask, allowed: ["date", "other-date"] }];
  }
  const mayBeFound = of === "findings" || (of === null && holds?.length !== 0);
  if (is === "correction" && mayBeFound) {
    const ask = "whether this says what was worn at the exam, or what was prescribed";
    return [{ key: "is", ask, allowed: ["correction", "glasses-prescribed", "other"] }];
  }
  if (is === "date" && !mayBeDate(column.facts) && !measuredDateWords.test(column.facts.words)) {
    const ask = "whether this date, whose name does not say so, is that of the measurement";
    return [{ key: "is", ask, allowed: ["date", "other-date", "birth-date"] }];
  }
  if (
    onceAChild.has(is) &&
    columns.some(
      (one) => one !== column && one.is === is && one.eye === column.eye && one.of === of,
    )
  ) {
    const ask = `whether this column or another one is the ${is} that is read`;
    return [{ key: "is", ask, allowed: [is, "other"] }];
  }
  if (eitherEye.has(is) && column.eye === null && isTwin(column, columns)) {
    return [{ key: "eye", ask: "which eye this is of", allowed: ["right", "left"] }];
  }
  const both = column.eyes !== null || column.questions.some(({ key }) => key === "eyes");
  if (
    measuredRoles.has(is) &&
    column.eye === null &&
    !both &&
    !columns.some((one) => one.is === "eye")
  ) {
    return [{ key: "eye", ask: "which eye this is of", allowed: ["right", "left"] }];
  }
  const sided = of !== null || holds?.length === 1;
  if (measuredRoles.has(is) && sided && isSecond(column, columns)) {
    const ask = `whether this column or another one is the ${is} of this eye that was measured`;
    return [{ key: "is", ask, allowed: [is, "other"] }];
  }
  if (
    is === "prescription" &&
    !prescriptionWords.test(column.facts.words) &&
    isPart(column, columns)
  ) {
    const ask = "whether this, beside a cylinder or an axis of the same eye, is the sphere alone";
    return [{ key: "is", ask, allowed: ["sphere", "prescription", "other"] }];
  }
  if (measuredRoles.has(is) && of === null && holds?.length === 2) {
    const ask = "whether this is of the screening or of the exam";
    return [{ key: "of", ask, allowed: ["readings", "findings"] }];
  }
  return [];
}

const prescriptionWords = anyOf(words.refraction);
const onceAChild: ReadonlySet<Role> = new Set([
  ...(["correction", "method", "glasses-prescribed", "strabismus", "ptosis"] as const),
  ...([
    "known-before",
    "verification-reason",
    "sex",
    "attempt",
    "repeat",
    "interpupillary",
    "decision",
    "media-opacity",
  ] as const),
]);
/** What an eye has, or both eyes together. */
const eitherEye: ReadonlySet<Role> = new Set([
  "acuity",
  "pupil",
  "status",
  "confidence",
  "gaze-horizontal",
  "gaze-vertical",
]);

/** A power of an eye and a measurement that has another one: two spheres, or a sphere and a prescription. */
function isSecond(column: DetectedColumn, columns: readonly DetectedColumn[]): boolean {
  const whole = new Set<Role>(["sphere", "prescription"]);
  return columns.some(
    (one) =>
      one !== column &&
      one.eye === column.eye &&
      one.block === column.block &&
      one.of === column.of &&
      (one.is === column.is || (whole.has(one.is) && whole.has(column.is))),
  );
}

/** Whether a cylinder or an axis of the same measurement stands in a column of its own. */
function isPart(column: DetectedColumn, columns: readonly DetectedColumn[]): boolean {
  return columns.some(
    (one) =>
      (one.is === "cylinder" || one.is === "axis") &&
      one.eye === column.eye &&
      one.of === column.of &&
      (one.block === column.block || column.block === ""),
  );
}

/** One of two columns of one thing without the word of an eye, where a row holds both eyes. */
function isTwin(column: DetectedColumn, columns: readonly DetectedColumn[]): boolean {
  if (columns.some(({ is }) => is === "eye")) return false;
  return columns.some(
    (one) => one !== column && one.is === column.is && one.eye === null && one.of === column.of,
  );
}

/** A date that ends more than a year before another one begins, which a birth would be. */
function isLongBefore(column: DetectedColumn, dates: readonly DetectedColumn[]): boolean {
  const others = dates.filter((one) => one !== column && one.is === "date");
  if (others.length === 0) return false;
  const [, last] = daysOf(column) ?? [];
  return others.some((one) => {
    const [first] = daysOf(one) ?? [];
    return first !== undefined && last !== undefined && last + 365 < first;
  });
}

const daysOf = ({ facts }: DetectedColumn) => dateColumn(facts.cells, { serials: true })?.days;

/** One of several dates of one measurement, of which it is not the only one that its name speaks for. */
function isRival(column: DetectedColumn, columns: readonly DetectedColumn[]): boolean {
  const rivals = columns.filter(({ is, of }) => is === "date" && of === column.of);
  const named = rivals.filter(
    ({ facts: { words } }) =>
      measuredDateWords.test(words) && (!eitherDateWords.test(words) || dateWords.test(words)),
  );
  // "Data visita" says more than "Controllo"
  const plain = named.filter(({ facts }) => dateWords.test(facts.words));
  const [first, other] = named.length === 1 ? named : plain;
  return rivals.length > 1 && !(other === undefined && first?.column === column.column);
}
