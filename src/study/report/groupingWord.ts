/** What a table calls its groups: Age, Site, or the user's own label as it stands. */
export function groupingWord(by: string): string {
  return by === "age" ? "Age" : by === "site" ? "Site" : by;
}
