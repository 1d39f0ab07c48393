/** Bytes as base64, without a Buffer. */
export function base64(bytes: Uint8Array): string {
  const parts: string[] = [];
  // more arguments at once than an engine takes would fail
  for (let at = 0; at < bytes.length; at += 8192) {
    parts.push(String.fromCharCode(...bytes.subarray(at, at + 8192)));
  }
  return btoa(parts.join(""));
}
