/**
 * A large result of which a test needs some members: each is checked against its type, the others
 * are absent. In one place, so that no test has a cast of its own.
 */
export function partOf<Whole>(parts: Part<Whole>): Whole {
  return parts as Whole;
}

type Part<Whole> = Whole extends string | number | boolean | null | undefined | ArrayBufferView
  ? Whole
  : Whole extends readonly (infer Item)[]
    ? readonly Part<Item>[]
    : { readonly [Name in keyof Whole]?: Part<Whole[Name]> };
