export function markdownRenderer(
  placeOf: (name: string) => string | undefined,
  hasGuide: (name: string) => boolean,
  roomPage: (folder: string) => string | undefined,
): { parse(markdown: string): string };
