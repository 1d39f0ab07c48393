/** How the numbers of a column stand: to the right, or with their decimal signs below each other. */
export interface ColumnPlace {
  readonly align: "left" | "right" | "decimal";
  /** Signs of the longest whole part; 0 where nothing is aligned by decimals. */
  readonly whole: number;
}

/** The sign and whole part with which a printed number begins; "" where a cell holds no number. */
export function wholePart(text: string): string {
  return /^(?:[<>] ?)?[-−]?\d+(?:[,\u2009]\d{3})*/.exec(text)?.[0] ?? (text === "–" ? text : "");
}

/**
 * Where numbers stand in a column: whole ones alone end at the right edge; where one has decimals or more
 * behind it (an interval, a share) all whole parts end at one place.
 *
 * @param texts the printed cells of the column that hold numbers
 */
export function placeOf(texts: readonly string[]): ColumnPlace {
  const wholes = texts.map(wholePart);
  if (texts.every((text, at) => text === wholes[at])) return { align: "right", whole: 0 };
  return { align: "decimal", whole: Math.max(0, ...wholes.map(({ length }) => length)) };
}
