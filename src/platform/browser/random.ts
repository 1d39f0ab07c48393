export function secretInteger(below: number): number {
  if (!(Number.isSafeInteger(below) && below >= 1 && below <= 2 ** 48)) {
    throw new RangeError(`a random number requires an upper end from 1 to 2^48, got ${below}`);
  }
  // numbers above the last whole multiple would make small ones likelier
  const end = 2 ** 48 - (2 ** 48 % below);
  for (;;) {
    const [low, high] = crypto.getRandomValues(new Uint32Array(2));
    const drawn = low + 2 ** 32 * (high & 0xffff);
    if (drawn < end) return drawn % below;
  }
}

export function secretHex(bytes: number): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (byte) =>
    byte.toString(16).padStart(2, "0"),
  ).join("");
}
