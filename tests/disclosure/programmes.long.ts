import { expect, it } from "vitest";
import { attackProgramme } from "../builders/programmeTeam.js";

it("discloses no small count of 60 invented programmes", () => {
  const attacks = Array.from({ length: 60 }, (_, at) => ({
    seed: at + 11,
    ...attackProgramme(at + 11),
  }));
  console.log(
    attacks.reduce((sum, { tried }) => sum + tried, 0),
    "small counts tried",
  );
  expect(attacks.filter(({ disclosed }) => disclosed.length > 0)).toEqual([]);
}, 1_200_000);
