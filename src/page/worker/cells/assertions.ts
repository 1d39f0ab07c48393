// What notebooks use of node:assert, with the same names, messages in its manner.
import { inspect } from "node-inspect-extracted";

export class AssertionError extends Error {
  override readonly name = "AssertionError";
  readonly code = "ERR_ASSERTION";
}

type Message = string | Error | undefined;

function fail(message: Message, otherwise: string): never {
  throw message instanceof Error ? message : new AssertionError(message ?? otherwise);
}

function check(holds: boolean, message: Message, words: () => string): void {
  if (!holds) fail(message, words());
}

const two = (words: string, a: unknown, b: unknown) => () =>
  `${words}\n\n${inspect(a)}\n\n${inspect(b)}\n`;

const isObject = (value: unknown): value is object => typeof value === "object" && value !== null;

/** Whether two values hold the same; strictly, or with == for what is no object. */
export function sameContent(a: unknown, b: unknown, strict: boolean): boolean {
  if (Object.is(a, b) || (a === b && !strict)) return true;
  if (!isObject(a) && !isObject(b)) {
    // biome-ignore lint/suspicious/noDoubleEquals: what node:assert does outside its strict mode
    return !strict && (a == b || (Number.isNaN(a) && Number.isNaN(b)));
  }
  if (!isObject(a) || !isObject(b)) return false;
  const tag = Object.prototype.toString;
  if (tag.call(a) !== tag.call(b)) return false;
  if (strict && Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return false;
  if (a instanceof Date && b instanceof Date && a.getTime() !== b.getTime()) return false;
  if (a instanceof RegExp && b instanceof RegExp && String(a) !== String(b)) return false;
  if (a instanceof Error && b instanceof Error && a.message !== b.message) return false;
  if (a instanceof Map && b instanceof Map) return sameContent([...a], [...b], strict);
  if (a instanceof Set && b instanceof Set) return sameContent([...a], [...b], strict);
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every(
      (key) =>
        Object.hasOwn(b, key) &&
        sameContent(
          (a as Record<string, unknown>)[key],
          (b as Record<string, unknown>)[key],
          strict,
        ),
    )
  );
}

type Expected =
  | RegExp
  | (new (
      ...given: never[]
    ) => Error)
  | ((error: unknown) => boolean)
  | object;

function requireExpected(error: unknown, expected: Expected | undefined, message: Message): void {
  if (expected === undefined) return;
  if (expected instanceof RegExp) {
    check(expected.test(String(error)), message, two("The error does not match", error, expected));
  } else if (typeof expected !== "function") {
    const wanted = Object.entries(expected);
    const got = error as Record<string, unknown>;
    const holds = ([key, value]: [string, unknown]) =>
      value instanceof RegExp ? value.test(String(got[key])) : sameContent(got[key], value, true);
    check(wanted.every(holds), message, two("The error is another one", error, expected));
  } else if (expected.prototype instanceof Error || (expected as unknown) === Error) {
    if (!(error instanceof (expected as new () => Error))) throw error;
  } else {
    const holds = (expected as (error: unknown) => boolean)(error);
    check(
      holds === true,
      message,
      () => "The function that looks at the error did not return true",
    );
  }
}

type Asserting = (value: unknown, message?: Message) => void;

function asserting(isStrict: boolean) {
  const ok: Asserting = (value, message) =>
    check(
      Boolean(value),
      message,
      () => `The expression evaluated to a falsy value: ${inspect(value)}`,
    );
  // biome-ignore lint/suspicious/noDoubleEquals: what node:assert does outside its strict mode
  const same = (a: unknown, b: unknown) => a == b || (Number.isNaN(a) && Number.isNaN(b));
  const is = isStrict ? Object.is : same;
  const methods = {
    AssertionError,
    ok,
    fail: (message?: Message) => fail(message, "Failed"),
    equal: (a: unknown, b: unknown, message?: Message) =>
      check(is(a, b), message, () => `${inspect(a)} ${isStrict ? "!==" : "=="} ${inspect(b)}`),
    notEqual: (a: unknown, b: unknown, message?: Message) =>
      check(!is(a, b), message, () => `${inspect(a)} != ${inspect(b)}`),
    strictEqual: (a: unknown, b: unknown, message?: Message) =>
      check(
        Object.is(a, b),
        message,
        () => `Expected values to be strictly equal:\n\n${inspect(a)} !== ${inspect(b)}\n`,
      ),
    notStrictEqual: (a: unknown, b: unknown, message?: Message) =>
      check(
        !Object.is(a, b),
        message,
        () => `Expected "actual" to be strictly unequal to: ${inspect(b)}`,
      ),
    deepEqual: (a: unknown, b: unknown, message?: Message) =>
      check(sameContent(a, b, isStrict), message, two("Expected values to be deep-equal:", a, b)),
    deepStrictEqual: (a: unknown, b: unknown, message?: Message) =>
      check(
        sameContent(a, b, true),
        message,
        two("Expected values to be strictly deep-equal:", a, b),
      ),
    notDeepEqual: (a: unknown, b: unknown, message?: Message) =>
      check(
        !sameContent(a, b, isStrict),
        message,
        two("Expected values not to be deep-equal:", a, b),
      ),
    notDeepStrictEqual: (a: unknown, b: unknown, message?: Message) =>
      check(!sameContent(a, b, true), message, two("Expected values not to be deep-equal:", a, b)),
    match: (text: string, pattern: RegExp, message?: Message) =>
      check(
        pattern.test(text),
        message,
        () =>
          `The input did not match the regular expression ${pattern}. Input:\n\n${inspect(text)}\n`,
      ),
    doesNotMatch: (text: string, pattern: RegExp, message?: Message) =>
      check(
        !pattern.test(text),
        message,
        () =>
          `The input was expected to not match the regular expression ${pattern}. Input:\n\n${inspect(text)}\n`,
      ),
    throws(work: () => unknown, expected?: Expected, message?: string) {
      let thrown: { readonly error: unknown } | undefined;
      try {
        work();
      } catch (error) {
        thrown = { error };
      }
      if (thrown === undefined) fail(message, "Missing expected exception.");
      requireExpected(thrown.error, expected, message);
    },
    async rejects(
      work: Promise<unknown> | (() => Promise<unknown>),
      expected?: Expected,
      message?: string,
    ) {
      let thrown: { readonly error: unknown } | undefined;
      await (typeof work === "function" ? work() : work).catch((error) => {
        thrown = { error };
      });
      if (thrown === undefined) return fail(message, "Missing expected rejection.");
      requireExpected(thrown.error, expected, message);
    },
  };
  return Object.assign((value: unknown, message?: Message) => ok(value, message), methods);
}

export const strictAssert = asserting(true);
export const assert = Object.assign(asserting(false), { strict: strictAssert });
