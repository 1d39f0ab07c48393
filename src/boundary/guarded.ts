import { InputError } from "../results/index.js";
import { type Fault, faultIn } from "./faultIn.js";
import { asOwn } from "./own.js";
import { type Parameter, shapes } from "./shapes.js";

type Call = (...given: unknown[]) => unknown;

/**
 * The public functions, each with one check before it: that what it is given is of the types that it
 * declares. Numbers are numbers (`null`, yes or no, words and holes are none), keys are known, what is
 * needed is there. What its values mean (finite, of one length, yes or no) the function's own room says.
 *
 * @param face names and what they stand for; what is no function stays as it is
 */
export function guarded<Face extends { readonly [name: string]: unknown }>(face: Face): Face {
  return Object.fromEntries(
    Object.entries(face).map(([name, one]) => [name, isCall(one) ? withCheck(name, one) : one]),
  ) as Face;
}

const isCall = (one: unknown): one is Call =>
  typeof one === "function" && !/^class\b/.test(Function.prototype.toString.call(one));

function withCheck(name: string, call: Call): Call {
  const refusal = (given: unknown[]) => {
    const calls = shapes().calls[name];
    return calls && refusalOf(name, calls, given);
  };
  const checked: Call =
    call.constructor.name === "AsyncFunction"
      ? async (...given) => {
          const refused = refusal(given);
          if (refused !== undefined) throw refused;
          return asOwn(await call(...given));
        }
      : (...given) => {
          const refused = refusal(given);
          if (refused !== undefined) throw refused;
          return asOwn(call(...given));
        };
  return Object.defineProperties(checked, {
    name: { value: name },
    length: { value: call.length },
  });
}

/** What is wrong with arguments, for the way of calling that they come nearest to. */
function refusalOf(
  name: string,
  calls: readonly (readonly Parameter[])[],
  given: readonly unknown[],
): InputError | undefined {
  const faults: Fault[] = [];
  for (const parameters of calls) {
    const fault = faultOfCall(parameters, given);
    if (fault === undefined) return undefined;
    faults.push(fault);
  }
  const [nearest] = faults.toSorted((one, other) => other.path.length - one.path.length);
  return new InputError(`${name} ${faultWords(nearest)}`);
}

/**
 * A value of one of the types of the public functions, read back from a file.
 *
 * @param name the type as the code names it, such as "StudyResult"
 * @throws InputError with the first place where it is none
 */
export function requireShape<Value>(caller: string, name: string, value: unknown): Value {
  const fault = faultIn(`#${name}`, value, [name]);
  if (fault === undefined) return value as Value;
  const cure = fault.cure ?? "take the file as it was written";
  throw new InputError(`${caller} ${faultWords({ ...fault, cure })}`);
}

function faultOfCall(
  parameters: readonly Parameter[],
  given: readonly unknown[],
): Fault | undefined {
  for (const [at, { name, shape, optional, rest }] of parameters.entries()) {
    if (rest) return faultIn(shape, given.slice(at), [name]);
    if (given[at] === undefined && optional) continue;
    const fault = faultIn(shape, given[at], [name]);
    if (fault !== undefined) return fault;
  }
  return undefined;
}

function faultWords({ path, wanted, got, cure }: Fault): string {
  const [argument, ...inner] = path;
  const row = inner.findLast((step) => typeof step === "number");
  const keys = inner.filter((step) => typeof step === "string").join(".");
  const place = keys || String(argument);
  const entry = typeof inner.at(-1) === "number";
  const what =
    entry && wanted.includes("a word") ? `${place} without gaps` : `${wanted} in ${place}`;
  const where = row === undefined ? "" : ` in row ${row}`;
  const help =
    cure ?? (entry ? "leave the row out, or decide beforehand how it counts" : undefined);
  return `requires ${what}, got ${got}${where}${help === undefined ? "" : `; ${help}`}`;
}
