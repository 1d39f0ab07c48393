/** Hyphens that stand for a minus become the minus sign; those within words and ranges stay. */
export function minusSigns(text: string): string {
  return text.replace(/(^|[( ])-(?=\d)/g, "$1−");
}
