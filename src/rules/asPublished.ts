/**
 * Printed with every published definition.
 *
 * @example
 * asPublished.startsWith("As published; may be superseded") // => true
 */
export const asPublished =
  "As published; may be superseded; check the publication. Your local protocol and licensed " +
  "practitioners decide who is referred.";
