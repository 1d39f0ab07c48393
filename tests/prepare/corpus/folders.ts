// The parts of the corpus whose layouts lie in folders, a folder a layout.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Layout, WrittenLayout } from "./layout.js";

/** The half of somebody else, as it lies in its folders. */
export const secondHalf = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/second");
/** The fourth part, written and measured before anybody mended anything for it. */
export const fourthPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/fourth");
/** The fifth part, written and measured as the fourth was. */
export const fifthPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/fifth");
/** The sixth part, likewise. */
export const sixthPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/sixth");
/** The seventh part, likewise. */
export const seventhPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/seventh");
/** The eighth part, likewise. */
export const eighthPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/eighth");
/** The ninth part, likewise. */
export const ninthPart = (): WrittenLayout[] => layoutsIn("tests/prepare/corpus/ninth");

function layoutsIn(part: string): WrittenLayout[] {
  const names = existsSync(part) ? readdirSync(part).sort() : [];
  return names
    .filter((name) => existsSync(join(part, name, "layout.json")))
    .map((name) => {
      const layout: Layout = JSON.parse(readFileSync(join(part, name, "layout.json"), "utf8"));
      const texts = layout.files.map(({ file }) => [
        file,
        readFileSync(join(part, name, file), "utf8"),
      ]);
      return { name, layout, texts: Object.fromEntries(texts) };
    });
}
