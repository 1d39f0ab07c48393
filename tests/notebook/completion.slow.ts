// What a cell offers while it is typed: the converter's own language service, on the built package's types.
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { patchConverter } from "../../src/notebook/patchConverter.js";

describe("completion and hover in a cell", () => {
  interface Converter {
    convert(
      earlier: string,
      source: string,
    ): { declOutput: string; diagnostics: { messageText: string }[] };
    complete(earlier: string, source: string, at: number): { candidates: string[] };
    inspect(earlier: string, source: string, at: number): unknown;
    close(): void;
  }
  const require = createRequire(import.meta.url);
  patchConverter();
  const { createConverter } = require("tslab/dist/converter.js") as {
    createConverter(options: object): Converter;
  };
  const { printQuickInfo } = require("tslab/dist/inspect.js") as {
    printQuickInfo(info: unknown): string;
  };

  it("offer the members of a result and the options of a call, and show units and an example", () => {
    // the converter takes types from its folder
    const converter = createConverter({ isJS: false, isBrowser: false });
    try {
      const { declOutput } = converter.convert(
        "",
        'import { limitsOfAgreement, meanInterval, toPowerVector } from "meridional";\nconst a = meanInterval([1, 2, 3]);',
      );
      expect(converter.complete(declOutput, "limitsOf", 8).candidates).toEqual([
        "limitsOfAgreement",
      ]);
      const typed = 'import { interocularD } from "meridional";';
      expect(converter.complete("", typed, typed.indexOf(" }")).candidates).toContain(
        "interocularDifference",
      );
      expect(converter.complete(declOutput, "a.", 2).candidates).toContain("kind");
      const call = "limitsOfAgreement({ test: [1], reference: [2] }, {";
      expect(converter.complete(declOutput, call, call.length).candidates).toContain("coverage");
      const hover = printQuickInfo(converter.inspect(declOutput, call, 4));
      expect(hover).toContain("test minus reference");
      expect(hover).toContain("// =>");
      const lens = "toPowerVector({ sphere: 1, cylinder: -0.5, axis: 180 })";
      const shown = printQuickInfo(converter.inspect(declOutput, lens, 4));
      expect(shown).toMatch(/dioptres/);
      expect(shown).toMatch(/degrees/);
      expect(shown).toContain("// =>");

      // within an import that is not finished; names that are there are not offered again
      const open = "import { limitsOfAgreement, lim";
      const { candidates, ...place } = converter.complete("", open, open.length);
      expect(place).toMatchObject({ start: open.length - 3, end: open.length });
      expect(candidates).toContain("limitHeatMapFigure");
      expect(candidates).not.toContain("limitsOfAgreement");
      const other = 'import { readF } from "node:fs";';
      expect(converter.complete("", other, other.indexOf(" }")).candidates).toContain(
        "readFileSync",
      );

      // what a word should have been, and where the package is found
      const messageOf = (source: string) =>
        converter.convert("", source).diagnostics[0]!.messageText;
      expect(
        messageOf(
          'import { eyePairs } from "meridional"; eyePairs(null as never, { eyes: "both", quantity: "SE" })',
        ),
      ).toBe(`Type '"SE"' is not assignable to type 'Quantity'. It takes "J0", "J45", "M".`);
      expect(messageOf('const a: "x" | "y" = "z"')).toBe(
        `Type '"z"' is not assignable to type '"x" | "y"'.`,
      );
      expect(messageOf('import { x } from "nowhere"')).toBe(
        "Cannot find module 'nowhere' or its corresponding type declarations.",
      );
    } finally {
      converter.close();
    }
  });
});
