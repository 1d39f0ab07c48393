/**
 * A caller's mistake: names the function, what it requires and what it got, in lower case and
 * without a full stop, as in "meanInterval requires at least 2 values, got 1".
 *
 * Printed as one line, so that a notebook shows the message and not a page of stack.
 *
 * @example
 * new InputError("sphericalEquivalent requires a sphere, got none").name // => "InputError"
 */
export class InputError extends Error {
  override readonly name = "InputError";

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return `${this.name}: ${this.message}`;
  }
}
