import { kernelDisplay } from "../platform/index.js";
import { textOf } from "./display.js";
import { isFrame } from "./frameTable.js";

type Format = (values: unknown[]) => string;

/**
 * In a notebook, makes a bare result on a cell's last line print its answer and tables instead of a
 * dump of all its members; of a frame, ten rows. The kernel prints that line by console.log, so the one place to act is how
 * the console formats a single value. Where that place is not found, and outside a notebook,
 * nothing changes.
 */
export function installBareResults(): void {
  if (kernelDisplay() === undefined) return;
  const name = Object.getOwnPropertySymbols(console).find(
    ({ description }) => description === "kFormatForStdout",
  );
  if (name === undefined) return;
  const formatter = console as unknown as { [name: symbol]: Format | undefined };
  const before = formatter[name];
  if (before === undefined) return;
  formatter[name] = function format(this: unknown, values) {
    const text = values.length === 1 ? bareText(values[0]) : undefined;
    return text ?? before.call(this, values);
  };
}

/** A result or a frame as its answer and tables; undefined for any other value. */
export function bareText(value: unknown): string | undefined {
  return isResult(value) ? textOf(value) : undefined;
}

function isResult(value: unknown): value is object {
  if (typeof value !== "object" || value === null) return false;
  if (isFrame(value)) return true;
  return (
    "kind" in value &&
    typeof value.kind === "string" &&
    Object.getPrototypeOf(value) === Object.prototype
  );
}
