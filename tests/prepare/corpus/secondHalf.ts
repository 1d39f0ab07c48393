import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Layout, WrittenLayout } from "./layout.js";

const second = "tests/prepare/corpus/second";
/** The half of somebody else, as it lies in its folders. */
export function secondHalf(): WrittenLayout[] {
  const names = existsSync(second) ? readdirSync(second).sort() : [];
  return names
    .filter((name) => existsSync(join(second, name, "layout.json")))
    .map((name) => {
      const layout: Layout = JSON.parse(readFileSync(join(second, name, "layout.json"), "utf8"));
      const texts = layout.files.map(({ file }) => [
        file,
        readFileSync(join(second, name, file), "utf8"),
      ]);
      return { name, layout, texts: Object.fromEntries(texts) };
    });
}
