import { expect, it } from "vitest";
import { inFull } from "../builders/inFull.js";
import { attackProgramme } from "../builders/programmeTeam.js";
import { attack } from "../builders/redTeam.js";

// The printed report of invented cohorts, read back by an attacker who knows
// the rules, and solved in whole numbers by another way than the library's.
it("discloses no small count of invented cohorts", () => {
  const attacks = Array.from({ length: inFull(8, 12) }, (_, at) => ({
    seed: at + 1,
    ...attack(at + 1),
  }));
  expect(attacks.filter(({ disclosed }) => disclosed.length > 0)).toEqual([]);
  expect(attacks.reduce((sum, { tried }) => sum + tried, 0)).toBeGreaterThan(100);
});

// Who knows the range of every count behind a printed figure of a programme, and whom it counts.
it("discloses no small count of invented programmes", () => {
  const attacks = inFull([5, 6, 7], [5, 6, 7, 8, 9, 10]).map((seed) => ({
    seed,
    ...attackProgramme(seed),
  }));
  expect(attacks.filter(({ disclosed }) => disclosed.length > 0)).toEqual([]);
  expect(attacks.reduce((sum, { tried }) => sum + tried, 0)).toBeGreaterThan(inFull(40, 100));
  // the figures that need parts of the cells were tried as well
  const shown = new Set(attacks.flatMap((one) => one.shown));
  for (const figure of [
    "Screened, of the eligible",
    "Screened again",
    "Referred",
    "Examined within the time stated",
    "Decisions that depart from the declared rule",
  ]) {
    expect(shown).toContain(figure);
  }
});
