import { sha256 } from "./node/hashes.js";

/** Names that a file cannot have on Windows, whatever its ending. */
const reserved = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/;
/** File systems take 255 bytes; this leaves room for an ending, a number and a temporary name. */
const longest = 100;

/**
 * A title as the stem of a file's name: small Latin letters, digits and hyphens. A longer one is cut, and a
 * part of its hash keeps it apart from others that begin alike. A title without any of these is its hash.
 */
export function fileStem(title: string): string {
  const plain = title
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  const hash = sha256(title).slice(0, 8);
  if (plain === "") return hash;
  if (plain.length > longest) return `${plain.slice(0, longest).replace(/-$/, "")}-${hash}`;
  return reserved.test(plain) ? `${plain}-${hash}` : plain;
}
