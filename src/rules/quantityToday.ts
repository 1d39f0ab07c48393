/** What the spherical equivalent, M, was called in rules written before. */
export const formerM = "sphericalEquivalent";

/** The name of a quantity as it is now, for rules and choices written before. */
export function quantityToday<Name extends string>(
  name: Name,
): Exclude<Name, typeof formerM> | "M" {
  return name === formerM ? "M" : (name as Exclude<Name, typeof formerM>);
}
