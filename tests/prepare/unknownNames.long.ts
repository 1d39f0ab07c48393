// Every layout of the corpus, with the columns of one role of one file under names that mean nothing in any
// language: what the names do not say is known by cells and other columns, or asked, and never wrong without a
// word. Counts: unknownNames.json. npx vitest run --config vitest.long.config.ts tests/prepare/unknownNames.long.ts
import { writeFileSync } from "node:fs";
import { expect, it } from "vitest";
import { unknownNames } from "./unknownNames.js";

it("no name that means nothing makes anything wrong without a word", async () => {
  const found = await unknownNames();
  writeFileSync(
    new URL("unknownNames.json", import.meta.url),
    `${JSON.stringify({ kind: "unknown-names", ...found }, null, 2)}\n`,
  );
  expect(found.wrong).toEqual([]);
}, 7_200_000);
