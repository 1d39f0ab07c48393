import { expect, it } from "vitest";
import { attack } from "../builders/redTeam.js";

// The printed report of invented cohorts, read back by an attacker who knows
// the rules, and solved in whole numbers by another way than the library's.
it("discloses no small count of 12 invented cohorts", () => {
  const attacks = Array.from({ length: 12 }, (_, at) => ({ seed: at + 1, ...attack(at + 1) }));
  expect(attacks.filter(({ disclosed }) => disclosed.length > 0)).toEqual([]);
  expect(attacks.reduce((sum, { tried }) => sum + tried, 0)).toBeGreaterThan(100);
});
