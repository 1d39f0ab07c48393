/** Where a child's numbers stand in its record: one flat run of Float64 values a child. */
export const childFields = {
  ageMonths: 0,
  site: 1,
  day: 2,
  strabismus: 3,
  opacity: 4,
  /** M, J0, J45 of the right eye, then of the left. */
  latent: 5,
  /** Sphere, cylinder, axis of the right eye, then of the left: the finding if examined. */
  finding: 11,
  /** 1 full, 2 inadequate: as recorded. */
  cycloplegia: 17,
  delay: 18,
  followDraw: 19,
  sampleDraw: 20,
  selfDraw: 21,
  departureDraw: 22,
  /** Readings begin here: slots of two eyes. */
  readings: 23,
} as const;

/** Status, sphere, cylinder, axis, confidence score, pupil of one eye. */
export const readingFields = 6;

/** Codes of a reading's status, in the order of `measurementStatuses`. */
export const statusCodes = {
  measured: 0,
  overRange: 1,
  underRange: 2,
  unreadable: 3,
  notAttempted: 4,
} as const;

/** A slot that holds no reading, because no further attempt was needed. */
export const emptySlot = -1;
