/** Printed with every published definition. */
export const asPublished =
  "As published; may be superseded; check the publication. Your local protocol and licensed " +
  "practitioners decide who is referred.";
