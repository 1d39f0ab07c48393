/** Lets what waits have its turn: a message, a timer, a sign to stop. */
export function pause(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}
