import { plainText } from "../text/index.js";

/**
 * Prose broken between words at the width of the terminal; unbroken where it goes elsewhere.
 *
 * @param columns width of the terminal in letters
 */
export function forTerminal(
  text: string,
  columns = process.stdout.isTTY ? process.stdout.columns : Number.POSITIVE_INFINITY,
): string {
  const broken = (line: string) => {
    const lines = [""];
    for (const word of line.split(" ")) {
      const last = lines.at(-1)!;
      if (last === "") lines[lines.length - 1] = word;
      else if (last.length + 1 + word.length <= columns)
        lines[lines.length - 1] = `${last} ${word}`;
      else lines.push(word);
    }
    return lines.join("\n");
  };
  return plainText(text).split("\n").map(broken).join("\n");
}
