import { createHash, createHmac } from "node:crypto";

type Content = string | Uint8Array;

/** SHA-256, hexadecimal. */
export function sha256(content: Content): string {
  return createHash("sha256").update(content).digest("hex");
}

/** SHA-256 in base 64, as a content security policy names it. */
export function sha256Base64(content: Content): string {
  return createHash("sha256").update(content).digest("base64");
}

/** SHA-256 of what comes part by part, hexadecimal. */
export async function sha256OfParts(parts: AsyncIterable<Uint8Array>): Promise<string> {
  const hash = createHash("sha256");
  for await (const part of parts) hash.update(part);
  return hash.digest("hex");
}

/** HMAC with SHA-256, hexadecimal. */
export function hmacSha256(secret: string, content: string): string {
  return createHmac("sha256", secret).update(content).digest("hex");
}
