import { describe, expect, it } from "vitest";
import { looksLikeNames } from "../../src/privacy/identifierPatterns.js";

describe("looksLikeNames", () => {
  const invented = ["Ab Cd", "Ef Gh", "Ij, Kl", "Mn Op"];

  it("fewer than half of the cells may be anything else", () => {
    expect(looksLikeNames([...invented, "north", "south"])).toBe(true);
    expect(looksLikeNames([...invented.slice(0, 3), "north", "south", "east"])).toBe(false);
  });

  it("does not judge fewer than five distinct cells", () => {
    expect(looksLikeNames(invented)).toBe(false);
    expect(looksLikeNames([...invented, "Qr St"])).toBe(true);
  });
});
