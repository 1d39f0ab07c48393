import { basename, partsOf } from "../../platform/index.js";
import { InputError } from "../../results/index.js";

/** Cells from the first to the last one that is written, empty ones between them included. */
const mostCells = 40_000_000;
/** Unpacked characters of one sheet; the shared texts of a workbook count as a sheet. */
const mostCharacters = 1_000_000_000;
/** Tags of one sheet: a cell with a value is four. */
const mostTags = 120_000_000;

const address = /<c\s(?:[^>]*\s)?r="([A-Z]{1,3})(\d{1,7})"/g;

/**
 * Looks through a workbook without building it, so that a small file cannot use up the memory: a single cell
 * far out, a sheet that unpacks to gigabytes, millions of empty tags.
 *
 * @throws InputError with the sheet's file, the number and the cure
 */
export async function requireModestWorkbook(path: string, caller: string): Promise<void> {
  const { Unzip, UnzipInflate } = await import("fflate");
  let fault: string | undefined;
  const unzip = new Unzip((file) => {
    if (!/^xl\/(worksheets\/[^/]+|sharedStrings)\.xml$/.test(file.name)) return;
    const look = sheetLook(basename(file.name));
    file.ondata = (error, chunk) => {
      // a damaged workbook is the reader's to name
      if (error === null) fault ??= look(chunk);
      if (fault !== undefined) file.terminate();
    };
    file.start();
  });
  unzip.register(UnzipInflate);
  try {
    for await (const part of partsOf(path, 1 << 18)) {
      unzip.push(part);
      if (fault !== undefined) break;
    }
    if (fault === undefined) unzip.push(new Uint8Array(0), true);
  } catch {
    return;
  }
  if (fault === undefined) return;
  throw new InputError(
    `${caller} requires a workbook of modest size, got ${basename(path)}, where ${fault}; ` +
      "delete what stands outside the table, or save the sheet as CSV",
  );
}

/** Counts what a sheet holds as its text goes by; says what is too much. */
function sheetLook(name: string): (chunk: Uint8Array) => string | undefined {
  const text = new TextDecoder("latin1");
  let characters = 0;
  let tags = 0;
  let rows = 0;
  let columns = 0;
  let rest = "";
  return (chunk) => {
    characters += chunk.length;
    for (let at = 0; at < chunk.length; at++) if (chunk[at] === 60) tags++;
    const piece = rest + text.decode(chunk);
    for (const [, letters, number] of piece.matchAll(address)) {
      rows = Math.max(rows, Number(number));
      columns = Math.max(columns, columnNumber(letters));
    }
    // a tag cut in two is looked at with the next chunk
    rest = piece.slice(Math.max(piece.lastIndexOf("<"), piece.length - 1000));
    const cells = rows * columns;
    if (cells > mostCells)
      return `${name} reaches over ${shown(cells)} cells (at most ${shown(mostCells)})`;
    if (tags > mostTags) return `${name} holds more than ${shown(mostTags)} tags`;
    if (characters > mostCharacters) {
      return `${name} unpacks to more than ${shown(mostCharacters)} characters`;
    }
    return undefined;
  };
}

function columnNumber(letters: string): number {
  let number = 0;
  for (const letter of letters) number = 26 * number + letter.charCodeAt(0) - 64;
  return number;
}

function shown(number: number): string {
  return number.toLocaleString("en-US");
}
