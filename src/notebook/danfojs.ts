// The only file that knows what danfojs is used for.
import { frameLibrary } from "../platform/index.js";
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
  const danfojs = frameLibrary() as Danfojs;
  // without it, a banner on stderr lands in the notebook at the first use
  danfojs.tensorflow.enableProdMode();
  return danfojs;
}
