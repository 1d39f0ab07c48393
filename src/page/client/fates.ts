/** What becomes of a column, in words. */
export const fates = {
  keep: "stays",
  drop: "goes",
  code: "code (Site 01, Site 02)",
  number: "study number",
  day: "days from the first screening",
  age: "age in months",
} as const;
