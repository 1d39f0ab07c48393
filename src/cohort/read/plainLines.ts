import { InputError } from "../../results/index.js";

const quote = 34;
const feed = 10;
const carriage = 13;

/**
 * The grammar of delimited text, for small and large files alike (RFC 4180): lines that all end in the same
 * way; a cell in quotes ends with its quote, and a quote in it is doubled. A quote within a cell that does not
 * begin with one is a character like others. Bytes come in pieces, in any encoding that keeps ASCII.
 *
 * @returns `take` for the next piece, and `end` after the last one
 * @throws InputError with the line, for what breaks the grammar: cells would run into each other
 */
export function plainLines(delimiter: string, file: string, caller: string) {
  const mark = delimiter.charCodeAt(0);
  let line = 1;
  let opened = 0;
  let lineEnd = 0;
  let state: "start" | "cell" | "quoted" | "closed" | "carriage" = "start";

  /** Ends a line by what it ended with: 10, 13, or 23 for both. */
  function endLine(end: number): void {
    if (lineEnd !== 0 && end !== lineEnd) {
      throw new InputError(
        `${caller} requires lines that all end in the same way, got ${file}, where line ${line} ends in another or ` +
          "has a carriage return within; saved anew by a spreadsheet it has one kind of line end",
      );
    }
    lineEnd = end;
    line++;
    state = "start";
  }

  function openQuote(): never {
    throw new InputError(
      `${caller} requires quotes that are closed and followed by a delimiter, got one in line ${opened} of ${file} ` +
        "that is not; close it, or double the quotes within a cell",
    );
  }

  function take(bytes: Uint8Array): void {
    for (let at = 0; at < bytes.length; at++) {
      const code = bytes[at];
      if (state === "quoted") {
        if (code === quote) state = "closed";
        else if (code === feed) line++;
        continue;
      }
      if (state === "closed" && code === quote) {
        state = "quoted";
        continue;
      }
      if (state === "carriage") {
        endLine(code === feed ? carriage + feed : carriage);
        if (code === feed) continue;
      }
      if (code === mark) state = "start";
      else if (code === feed) endLine(feed);
      else if (code === carriage) state = "carriage";
      else if (state === "closed") openQuote();
      else if (code === quote && state === "start") {
        opened = line;
        state = "quoted";
      } else state = "cell";
    }
  }

  function end(): void {
    if (state === "quoted") openQuote();
    if (state === "carriage") endLine(carriage);
  }

  return { take, end };
}
