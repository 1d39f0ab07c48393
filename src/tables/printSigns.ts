/**
 * Typed signs as print has them: a hyphen before a number becomes the minus sign, <= and >= become
 * ≤ and ≥. Hyphens within words and ranges stay.
 */
export function printSigns(text: string): string {
  return text
    .replace(/(^|[( ])-(?=\d)/g, "$1−")
    .replaceAll("<=", "≤")
    .replaceAll(">=", "≥");
}
