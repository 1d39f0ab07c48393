import { withoutStack } from "../../../notebook/index.js";
import { CellSyntaxError, cellScript } from "./cellScript.js";
import { exportNamed, moduleNamed } from "./modules.js";

/** How a cell ended; the line, from 1, where it failed, as far as it is known. */
export type CellEnd =
  | { readonly kind: "ran"; readonly shown: unknown }
  | { readonly kind: "failed"; readonly message: string; readonly line: number | null };

type Access = readonly [get: () => unknown, set: (value: unknown) => void];
type Body = () => Promise<{ shown: unknown; names: Readonly<Record<string, Access>> }>;
type HandOver = (names: object, importHere: (name: unknown) => Promise<unknown>) => Body;

/** What cells share: what earlier ones declared and imported. */
export interface CellScope {
  run(source: string): Promise<CellEnd>;
}

/**
 * Cells in one worker. What a cell declared is there for later ones once it has run to its end: as a member of
 * the global object, or, where the browser has something of that name, in front of it for cells alone, so that
 * no library meets it.
 *
 * @param loadScript runs a classic script at once, such as importScripts on a blob
 */
export function cellScope(loadScript: (text: string) => void): CellScope {
  const world: object = globalThis;
  const builtIn = new Set<string>();
  for (let owner = world; owner !== null; owner = Object.getPrototypeOf(owner)) {
    for (const name of Object.getOwnPropertyNames(owner)) builtIn.add(name);
  }
  const shadows: object = Object.create(null);
  let count = 0;

  const define = (name: string, get: () => unknown, set: (value: unknown) => void) => {
    const place = builtIn.has(name) ? shadows : world;
    Object.defineProperty(place, name, { get, set, configurable: true, enumerable: true });
  };
  const importHere = async (name: unknown) => moduleNamed(String(name));

  return {
    async run(source) {
      count++;
      const own = `cell-${count}`;
      try {
        const { text, imports } = cellScript(source, own, Object.keys(shadows).length > 0);
        for (const { from, names } of imports) {
          moduleNamed(from);
          for (const [name, theirs] of names) {
            define(name, () => exportNamed(from, theirs), refuseSet(name));
          }
        }
        const { shown, names } = await handedOver(text, loadScript)(shadows, importHere)();
        for (const [name, [get, set]] of Object.entries(names)) define(name, get, set);
        return { kind: "ran", shown };
      } catch (error) {
        return { kind: "failed", message: errorText(error), line: lineOf(error, own) };
      }
    },
  };
}

function refuseSet(name: string) {
  return () => {
    throw new TypeError(`Cannot assign to '${name}' because it is an import.`);
  };
}

/** The function that a cell's script hands over as it is loaded. */
function handedOver(text: string, loadScript: (text: string) => void): HandOver {
  let given: HandOver | undefined;
  const world = globalThis as { handOver$?: (body: HandOver) => void };
  world.handOver$ = (body) => {
    given = body;
  };
  try {
    loadScript(text);
  } finally {
    delete world.handOver$;
  }
  if (given === undefined) throw new Error("the cell could not be loaded by this browser");
  return given;
}

export function errorText(error: unknown): string {
  return String(withoutStack(error));
}

/** The first line of the cell itself on the way to the error; lines of a stack begin with the innermost call. */
export function lineOf(error: unknown, name: string): number | null {
  if (error instanceof CellSyntaxError) return error.line;
  const stack = error instanceof Error ? (error.stack ?? "") : "";
  const found = new RegExp(`\\b${name}:(\\d+):\\d+`).exec(stack)?.[1];
  return found === undefined ? null : Number(found);
}
