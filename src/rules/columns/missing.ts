/** A missing value among thousandths; below every other. */
export const missing = -(2 ** 30);
