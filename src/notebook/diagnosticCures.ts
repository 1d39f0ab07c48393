/** What the compiler says of a cell. */
export interface Diagnostic {
  readonly start: { readonly offset: number };
  readonly messageText: string;
}

/** Values that are listed; more would hide the message. */
const mostValues = 12;

/**
 * The compiler's messages, with what would help behind two of them: the package that is not found, and a word
 * that an option does not take, where the type's name hides the words that it does.
 *
 * @param wordsAt what completes at a place in the source
 */
export function withCures<Converted extends { readonly diagnostics?: readonly Diagnostic[] }>(
  converted: Converted,
  source: string,
  wordsAt: (position: number) => readonly string[],
): Converted {
  const { diagnostics = [] } = converted;
  if (diagnostics.length === 0) return converted;
  return {
    ...converted,
    diagnostics: diagnostics.map((one) => {
      const cure = cureOf(one, source, wordsAt);
      return cure === "" ? one : { ...one, messageText: `${one.messageText} ${cure}` };
    }),
  };
}

function cureOf(
  { start, messageText }: Diagnostic,
  source: string,
  wordsAt: (position: number) => readonly string[],
): string {
  if (messageText.startsWith("Cannot find module 'meridional'")) {
    return "The notebook must lie in a folder in which the package is installed: go there, run npm install meridional, or let meridional folder NAME make one.";
  }
  const word = /^(?:Type|Argument of type) '"([^"]*)"' is not assignable/.exec(messageText)?.[1];
  if (word === undefined) return "";
  const at = source.slice(start.offset).search(new RegExp(`["']${escaped(word)}["']`));
  if (at < 0) return "";
  const words = wordsAt(start.offset + at + 1);
  // already in the message, or none that can be listed
  if (words.length === 0 || words.length > mostValues) return "";
  if (words.every((one) => messageText.includes(`"${one}"`))) return "";
  return `It takes ${words.map((one) => `"${one}"`).join(", ")}.`;
}

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
