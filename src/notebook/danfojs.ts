// The only file that knows danfojs; it is loaded at first use, since it is large and optional.
import { createRequire } from "node:module";
import { join } from "node:path";
import { InputError } from "../results/index.js";
import type { Frame } from "./frame.js";

interface Danfojs {
  readonly DataFrame: new (columns: object) => Frame;
  merge(sides: {
    readonly left: Frame;
    readonly right: Frame;
    readonly on: readonly string[];
    readonly how: "left" | "inner";
  }): Frame;
  readonly tensorflow: { enableProdMode(): void };
}

let loaded: Danfojs | undefined;

/** Builds a DataFrame from columns of equal length. */
export function danfojsFrame(columns: object): Frame {
  loaded ??= load();
  return new loaded.DataFrame(columns);
}

/** Rows of both frames beside one another where the columns `on` are equal. */
export function danfojsJoin(
  left: Frame,
  right: Frame,
  on: readonly string[],
  how: "left" | "inner",
): Frame {
  loaded ??= load();
  return loaded.merge({ left, right, on, how });
}

function load(): Danfojs {
  // beside this package, or in the project of whoever uses it
  for (const place of [import.meta.url, join(process.cwd(), "notebook.js")]) {
    const require = createRequire(place);
    try {
      require.resolve("danfojs-node");
    } catch {
      continue;
    }
    const danfojs: Danfojs = require("danfojs-node");
    // without it, a banner on stderr lands in the notebook at the first use
    danfojs.tensorflow.enableProdMode();
    return danfojs;
  }
  throw new InputError(
    'toFrame requires danfojs: add "overrides": {"xlsx": "npm:xlsx@0.18.5", ' +
      '"@tensorflow/tfjs-node": "npm:@tensorflow/tfjs@3.21.0"} to package.json, ' +
      "then npm install danfojs-node@1.2.0",
  );
}
