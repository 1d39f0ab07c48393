import { hmac } from "@noble/hashes/hmac";
import { sha256 as hash } from "@noble/hashes/sha2";
import { bytesToHex } from "@noble/hashes/utils";

type Content = string | Uint8Array;

export function sha256(content: Content): string {
  return bytesToHex(hash(content));
}

export function sha256Base64(content: Content): string {
  return btoa(String.fromCharCode(...hash(content)));
}

export async function sha256OfParts(parts: AsyncIterable<Uint8Array>): Promise<string> {
  const state = hash.create();
  for await (const part of parts) state.update(part);
  return bytesToHex(state.digest());
}

export function hmacSha256(secret: string, content: string): string {
  return bytesToHex(hmac(hash, secret, content));
}
