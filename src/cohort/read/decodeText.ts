import { InputError } from "../../results/index.js";
import type { Encoding } from "./sniffBytes.js";

/**
 * Text from bytes. Nothing is replaced by guesswork: a byte that does not belong to the encoding is
 * an error that says on which line it stands.
 *
 * @throws InputError for bytes that are not of the encoding
 */
export function decodeText(
  bytes: Uint8Array,
  encoding: Encoding,
  file: string,
  caller: string,
): string {
  if (encoding === "latin1") return decodeLatin1(bytes);
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    const where = encoding === "utf-8" ? ` on line ${firstWrongLine(bytes)}` : "";
    throw new InputError(
      `${caller} requires ${encoding} text or a declared encoding, got other bytes in ${file}${where}; ` +
        'save it as UTF-8, or say what it is: "text": { "encoding": "latin1" }',
    );
  }
}

/** Every byte is the character of its number; what the web calls latin1 is another encoding. */
function decodeLatin1(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += 8192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return text;
}

/** The first line that is not UTF-8; a wrong file is decoded once more, by halves. */
function firstWrongLine(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (decodes(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  let line = 1;
  for (let index = 0; index < good; index++) if (bytes[index] === 10) line++;
  return line;
}

function decodes(bytes: Uint8Array): boolean {
  try {
    // a character cut in two at the end is not wrong yet
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}
