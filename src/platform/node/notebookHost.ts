import { createRequire } from "node:module";
import { join } from "node:path";
import { InputError } from "../../results/index.js";

/** A picture or table in several forms; the page takes the first it can show. */
export type MimeBundle = Readonly<Record<string, string>>;

type WriteDisplay = (
  content: { data: Readonly<Record<string, unknown>>; metadata: object; transient: object },
  update: boolean,
) => void;

/**
 * The kernel's way to show a bundle, or undefined outside a kernel. Found among the modules that
 * are already loaded, so that it is the one of the running kernel, wherever that is installed.
 */
export function kernelDisplay(): ((bundle: MimeBundle) => void) | undefined {
  const loaded = createRequire(import.meta.url).cache;
  const name = Object.keys(loaded).find((path) =>
    /[\\/]tslab[\\/]dist[\\/]jupyter\.js$/.test(path),
  );
  const write: WriteDisplay | null | undefined =
    name === undefined ? undefined : loaded[name]?.exports.lastWriteDisplayData;
  if (!write) return undefined;
  return (data) => write({ data: withObjects(data), metadata: {}, transient: {} }, false);
}

/** What is JSON goes to a page as an object: as a text no page draws it. */
function withObjects(bundle: MimeBundle): Readonly<Record<string, unknown>> {
  return Object.fromEntries(
    Object.entries(bundle).map(([type, value]) => [
      type,
      type.endsWith("json") ? JSON.parse(value) : value,
    ]),
  );
}

/** A bundle that is whole only at the end of its cell; here the cell waits for its drawing instead. */
export const drawnLater:
  | ((bundle: MimeBundle, whole: () => Promise<MimeBundle>) => MimeBundle)
  | null = null;

/** The frame library, danfojs: large and optional, so loaded at its first use. */
export function frameLibrary(): unknown {
  // beside this package, or in the project of whoever uses it
  for (const place of [import.meta.url, join(process.cwd(), "notebook.js")]) {
    const require = createRequire(place);
    try {
      require.resolve("danfojs-node");
    } catch {
      continue;
    }
    return require("danfojs-node");
  }
  throw new InputError(
    'toFrame requires danfojs: add "overrides": {"xlsx": "npm:xlsx@0.18.5", ' +
      '"@tensorflow/tfjs-node": "npm:@tensorflow/tfjs@3.21.0"} to package.json, ' +
      "then npm install danfojs-node@1.2.0",
  );
}
