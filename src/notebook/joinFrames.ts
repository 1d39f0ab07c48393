import { InputError } from "../results/index.js";
import { danfojsJoin } from "./danfojs.js";
import type { Frame } from "./frame.js";
import { fromFrame } from "./fromFrame.js";

/**
 * The columns of a second frame beside those of the first, where the columns `on` are equal: a list of sites
 * beside eyes, for example. The second frame has each key once, so that no row of the first is doubled.
 *
 * @param first the frame whose rows stay
 * @param second the frame whose columns come beside them
 * @param options `on`, columns of both frames; `keep` "all" rows of the first (default), with what is missing
 *   empty, or "matched" ones
 * @throws InputError when a column is missing on either side or stands in both beside `on`, or when the second
 *   frame has a key twice
 * @example
 * const frame = (label, cells) => toFrame({ kind: "table", title: "", columns: [{ label: "site", format: "text" }, { label, format: "number" }], rows: cells.map((cell, at) => ({ cells: [["North", "South"][at], cell] })), notes: [] });
 * joinFrames(frame("M", [-1, -2]), frame("nurses", [3, 4]), { on: ["site"] }).columns // => ["site", "M", "nurses"]
 */
export function joinFrames(
  first: Frame,
  second: Frame,
  options: {
    /** Columns of both frames that have to be equal. */
    readonly on: readonly string[];
    /** "all" rows of the first frame (default), or "matched" ones. */
    readonly keep?: "all" | "matched";
  },
): Frame {
  const { on, keep = "all" } = options;
  const caller = "joinFrames";
  if (on.length === 0) throw new InputError(`${caller} requires a column to join on, got none`);
  for (const [name, frame] of Object.entries({ first, second })) {
    const missing = on.find((column) => !frame.columns.includes(column));
    if (missing !== undefined) {
      throw new InputError(
        `${caller} requires the column "${missing}" in the ${name} frame, got ${frame.columns.join(", ")}`,
      );
    }
  }
  const twice = second.columns.find(
    (column) => !on.includes(column) && first.columns.includes(column),
  );
  if (twice !== undefined) {
    throw new InputError(
      `${caller} requires other columns of different names, got "${twice}" in both`,
    );
  }
  const keys = fromFrame(second).map((row) => JSON.stringify(on.map((column) => row[column])));
  const repeated = keys.find((key, at) => keys.indexOf(key) !== at);
  if (repeated !== undefined) {
    throw new InputError(
      `${caller} requires each key once in the second frame, got ${repeated} again`,
    );
  }
  return danfojsJoin(first, second, on, keep === "all" ? "left" : "inner");
}
