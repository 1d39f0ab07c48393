export function secretInteger(below: number): number {
  if (!(Number.isSafeInteger(below) && below >= 1 && below <= 2 ** 48)) {
    throw new RangeError(`a random number requires an upper end from 1 to 2^48, got ${below}`);
  }
  // numbers above the last whole multiple would make small ones likelier
  const end = 2 ** 48 - (2 ** 48 % below);
  for (;;) {
    const [low, high] = nextPair();
    const drawn = low + 2 ** 32 * (high & 0xffff);
    if (drawn < end) return drawn % below;
  }
}

// asking the browser for each number alone takes ten times as long
const pool = new Uint32Array(2048);
let used = pool.length;

/** Two numbers that were never given before. */
function nextPair(): [number, number] {
  if (used === pool.length) {
    crypto.getRandomValues(pool);
    used = 0;
  }
  const pair: [number, number] = [pool[used], pool[used + 1]];
  pool.fill(0, used, used + 2);
  used += 2;
  return pair;
}

export function secretHex(bytes: number): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(bytes)), (byte) =>
    byte.toString(16).padStart(2, "0"),
  ).join("");
}
