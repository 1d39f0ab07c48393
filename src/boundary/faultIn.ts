import { didYouMean, formerNameOf, nearest } from "../results/index.js";
import { shownValue } from "../rows/index.js";
import { fits, isColumn, isPlain, wordsOf } from "./fits.js";
import { isOwn } from "./own.js";
import { greatest, isModest, isReadByRooms, plainKindsOf, plainUntil } from "./plainEntries.js";
import { type Choice, type Members, type Shape, shapes } from "./shapes.js";
import { lackOf, negativeCount } from "./wholeness.js";

/** Where a value is not what its type says. */
export interface Fault {
  /** Keys and rows from the argument to the place. */
  readonly path: readonly (string | number)[];
  readonly wanted: string;
  readonly got: string;
  readonly cure?: string;
}

/** Where a search has come to. */
interface Place {
  readonly path: Fault["path"];
  /** Keys that another form of the same value has. */
  readonly others: readonly string[];
  /** Within something that the package made: its numbers are finite. */
  readonly made: boolean;
  /** Within something made, or within rows: it may hold more than one function asks for. */
  readonly open: boolean;
  /** An entry of a column of data, where NaN may be "missing"; a result has no such number. */
  readonly entry: boolean;
}

const below = ({ path, made, open }: Place, step: string | number): Place => ({
  path: [...path, step],
  others: [],
  made,
  open,
  entry: false,
});

/** The first place where a value is not of a shape; undefined where it is. */
export function faultIn(shape: Shape, value: unknown, path: Fault["path"] = []): Fault | undefined {
  return search(shape, value, { path, others: [], made: false, open: false, entry: false });
}

function search(shape: Shape, value: unknown, place: Place): Fault | undefined {
  const { path } = place;
  if (typeof shape === "string") {
    if (shape.startsWith("#")) return search(shapes().named[shape]!, value, place);
    if (!fits(shape, value)) return wrong(shape, value, path);
    return shape === "number" ? inNumber(value as number, place) : undefined;
  }
  if ("is" in shape) return fits(shape, value) ? undefined : wrong(shape, value, path);
  if ("any" in shape) return inChoice(shape, value, place);
  if ("of" in shape) {
    if (!isColumn(value)) return wrong(shape, value, path);
    return inColumn(shape.of, value, place);
  }
  if ("tuple" in shape) {
    if (!isColumn(value) || value.length !== shape.tuple.length) return wrong(shape, value, path);
    return first(shape.tuple, (one, at) => search(one, value[at], below(place, at)));
  }
  return inMembers(shape, value, place);
}

function wrong(shape: Shape, value: unknown, path: Fault["path"]): Fault {
  const wanted = wordsOf(shape);
  return { path, wanted, got: gotWords(value), cure: nearWord(shape, value) };
}

function nearWord(shape: Shape, value: unknown): string | undefined {
  if (typeof shape !== "object" || !("is" in shape) || typeof value !== "string") return undefined;
  const near = nearest(value, shape.is.map(String));
  return near.length === 0
    ? undefined
    : `did you mean ${near.map((one) => `"${one}"`).join(" or ")}?`;
}

const knownKeys = "known keys";

/** A number by itself is finite; in a column NaN may be "missing", which the room of a function says. */
function inNumber(value: number, { path, entry }: Place): Fault | undefined {
  if (!isModest(value)) return { path, wanted: `numbers up to ${greatest}`, got: `${value}` };
  if (Number.isFinite(value) || entry) return undefined;
  return { path, wanted: "a finite number", got: `${value}` };
}

function gotWords(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "function") return "a function";
  if (typeof value !== "object" || value === null) return shownValue(value).slice(0, 60);
  return isColumn(value) ? `a list of ${value.length}` : "an object";
}

function inColumn(of: Shape, column: ArrayLike<unknown>, place: Place): Fault | undefined {
  const entry = !place.made || ArrayBuffer.isView(column);
  if (entry && isReadByRooms(of)) return undefined;
  const kinds = entry ? plainKindsOf(of) : undefined;
  for (let row = plainUntil(column, kinds); row < column.length; row++) {
    const value = column[row];
    const fault = search(of, value, { ...below(place, row), open: true, entry });
    if (fault !== undefined) return fault;
  }
  return undefined;
}

/** The form that a value comes nearest to: of its kind, then the one whose fault lies deepest. */
function inChoice(choice: Choice, value: unknown, place: Place): Fault | undefined {
  const { path } = place;
  const { forms, keys } = formsOf(choice);
  const inForm = { ...place, others: [...place.others, ...keys] };
  const number = typeof value === "number" && fits(choice, value) && inNumber(value, place);
  if (number) return number;
  const faults: { readonly form: Shape; readonly fault: Fault }[] = [];
  for (const form of forms) {
    const fault = search(form, value, inForm);
    if (fault === undefined) return undefined;
    faults.push({ form, fault });
  }
  const deeper = faults.filter(
    ({ form, fault }) => fault.path.length > path.length && sameKind(form, value),
  );
  const shown =
    deeper.length > 0 ? deeper : faults.filter(({ fault }) => fault.path.length > path.length);
  const [nearestOne] = shown.toSorted((a, b) => b.fault.path.length - a.fault.path.length);
  // a key that no form has says more than that no form fits
  const strange = faults.find(({ fault }) => fault.wanted === knownKeys)?.fault;
  return nearestOne?.fault ?? strange ?? wrong(choice, value, path);
}

const known = new WeakMap<Choice, { forms: Shape[]; keys: string[] }>();
function formsOf(choice: Choice): { forms: Shape[]; keys: string[] } {
  const found = known.get(choice);
  if (found !== undefined) return found;
  const forms = choice.any.map(resolved);
  const made = { forms, keys: forms.flatMap(keysOf) };
  known.set(choice, made);
  return made;
}

const resolved = (shape: Shape): Shape =>
  typeof shape === "string" && shape.startsWith("#") ? resolved(shapes().named[shape]!) : shape;

function keysOf(shape: Shape): string[] {
  const form = resolved(shape);
  if (typeof form !== "object") return [];
  if ("any" in form) return form.any.flatMap(keysOf);
  return "keys" in form ? Object.keys(form.keys!).map(bare) : [];
}

/** Whether what tells forms apart, such as `kind`, is that of this one. */
function sameKind(form: Shape, value: unknown): boolean {
  if (typeof form !== "object" || !("keys" in form) || !isPlain(value)) return false;
  return Object.entries(form.keys!).every(
    ([key, one]) => typeof one !== "object" || !("is" in one) || fits(one, value[bare(key)]),
  );
}

const bare = (key: string) => key.replace(/\?$/, "");

function inMembers(shape: Members, value: unknown, place: Place): Fault | undefined {
  const { path } = place;
  if (typeof value !== "object" || value === null || isColumn(value))
    return wrong(shape, value, path);
  if (isOwn(value, shape)) return undefined;
  const given = value as { readonly [key: string]: unknown };
  const isMade = typeof given.kind === "string";
  const within = { ...place, made: place.made || isMade, open: place.open || isMade };
  const { entries, names } = membersOf(shape);
  for (const { name, needed, shape: one } of entries) {
    const at = given[name] === undefined ? formerKey(name, given, names) : name;
    if (given[at] !== undefined) {
      const fault = search(one, given[at], below(within, at));
      if (fault !== undefined) return fault;
    } else if (needed) {
      const nothing = { path: [...path, name], wanted: wordsOf(one), got: "nothing" };
      return strangeKey(given, names, within) ?? nothing;
    }
  }
  const below0 = negativeCount(given);
  if (below0 !== undefined) {
    return {
      path: [...path, below0],
      wanted: "a whole count of 0 or more",
      got: `${given[below0]}`,
    };
  }
  const lack = lackOf(given);
  if (lack !== undefined) return { path, wanted: `whole ${given.kind}`, got: lack };
  const { each } = shape;
  if (each === undefined) return strangeKey(given, names, within);
  return first(
    Object.keys(given).filter((key) => !names.includes(key)),
    (key) => search(each, given[key], below(within, key)),
  );
}

interface Entry {
  readonly name: string;
  readonly needed: boolean;
  readonly shape: Shape;
}
const listed = new WeakMap<Members, { entries: Entry[]; names: string[] }>();
function membersOf(shape: Members): { entries: Entry[]; names: string[] } {
  const found = listed.get(shape);
  if (found !== undefined) return found;
  const entries = Object.entries(shape.keys ?? {}).map(([key, one]) => ({
    name: bare(key),
    needed: !key.endsWith("?") && !fits(one, undefined),
    shape: one,
  }));
  const made = { entries, names: entries.map(({ name }) => name) };
  listed.set(shape, made);
  return made;
}

const formerKey = (name: string, given: object, names: readonly string[]) =>
  formerNameOf(name, given, names) ?? name;

/**
 * A key that the type does not have. In what the package made, and in rows, only one that looks like a
 * key that is missing is a fault.
 */
function strangeKey(
  given: { readonly [key: string]: unknown },
  names: readonly string[],
  { path, others, open }: Place,
): Fault | undefined {
  const keys = [...names, ...others];
  if (!isPlain(given) || keys.length === 0) return undefined;
  for (const key of Object.keys(given)) {
    if (given[key] === undefined || keys.includes(key)) continue;
    if (keys.some((name) => formerNameOf(name, given, keys) === key)) continue;
    const absent = keys.filter((name) => given[name] === undefined);
    if (open && nearest(key, absent).length === 0) continue;
    const cure = didYouMean(key, [...new Set(keys)]);
    return { path, wanted: knownKeys, got: `"${key}"`, cure };
  }
  return undefined;
}

function first<One>(
  list: readonly One[],
  look: (one: One, at: number) => Fault | undefined,
): Fault | undefined {
  for (const [at, one] of list.entries()) {
    const fault = look(one, at);
    if (fault !== undefined) return fault;
  }
  return undefined;
}
