/** Names that fit, and the part of the cell that one of them takes the place of. */
export interface Completion {
  readonly start: number;
  readonly end: number;
  readonly candidates: readonly string[];
}

/**
 * Names of a module where the place lies between the braces of an import, without those that are there;
 * nothing elsewhere. The compiler completes members, not names to import: so it is asked for the
 * members of the whole module. Before "from" is written the module is this package.
 *
 * @param membersOf completes at the end of a text
 */
export function completeImport(
  source: string,
  position: number,
  membersOf: (text: string) => Completion,
): Completion | undefined {
  const before = source.slice(0, position);
  const after = source.slice(position);
  const braces = /\bimport\s+(?:type\s+)?(?:\w+\s*,\s*)?\{([^{}]*)$/.exec(before);
  if (braces === null) return undefined;
  const rest = /^([^{}]*)(?:\}\s*from\s*["']([^"'\n]+)["'])?/.exec(after)!;
  const word = /\w*$/.exec(before)![0];
  const end = /^\w*/.exec(after)![0].length;
  const module = rest[2] ?? "meridional";
  const listed = new Set(
    `${braces[1]!.slice(0, braces[1]!.length - word.length)} ${rest[2] ? rest[1]!.slice(end) : ""}`.match(
      /\w+/g,
    ),
  );
  const { candidates } = membersOf(
    `import * as __all from ${JSON.stringify(module)}; __all.${word}`,
  );
  return {
    start: position - word.length,
    end: position + end,
    candidates: candidates.filter((name) => !listed.has(name)),
  };
}
