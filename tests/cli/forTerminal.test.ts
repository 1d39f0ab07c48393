import { describe, expect, it } from "vitest";
import { forTerminal } from "../../src/cli/forTerminal.js";
import { caution } from "../../src/results/index.js";

describe("forTerminal", () => {
  it("breaks between words, no line longer than the terminal, no word lost", () => {
    const lines = forTerminal(`${caution}\n\nend`, 80).split("\n");
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
    expect(lines.join(" ").replace(/ +/g, " ")).toBe(`${caution} end`);
    expect(lines.length).toBeGreaterThan(5);
  });

  it("leaves a word alone that is longer than the line, and a line that fits", () => {
    expect(forTerminal("a 1234567890 b", 5)).toBe("a\n1234567890\nb");
    expect(forTerminal("as it is", 8)).toBe("as it is");
  });

  it("breaks nothing that does not go to a terminal", () => {
    expect(forTerminal(caution, Number.POSITIVE_INFINITY)).toBe(caution);
  });
});
