import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { agreementTo, answersOf, keyOf, setOfColumn } from "../../src/page/client/answers.js";
import { type Preparation, prepareFiles } from "../../src/prepare/index.js";

// What the page sends at each look: a loss that nobody has agreed to is asked at every one of them.
describe("the page's answers", () => {
  let folder: string;
  let files: string[];
  let first: Preparation;
  const look = (choices?: object) =>
    prepareFiles(files, choices, { to: join(folder, "study"), key: join(folder, "key") });
  const lost = ({ unseenLosses }: Preparation) => unseenLosses.map(({ column }) => column).sort();

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "meridional-answers-"));
    const rows = (start: string, of: (child: number) => string) =>
      [start, ...Array.from({ length: 40 }, (_, child) => of(child))].join("\n");
    const texts = {
      "screening.csv": rows(
        "Pupil number,Seen on,Eye,Sphere,Cylinder,Axis,Remarks,Class teacher",
        (child) =>
          `${child},2026-03-09,R,+1.${child % 2 ? "25" : "50"},-0.50,90,shy today ${child},Invented Name ${child % 4}`,
      ),
      "clinic.csv": rows(
        "Pupil number,Exam date,Eye,Sphere,Cylinder,Axis",
        (child) => `${child},2026-04-09,R,+1.75,-0.50,90`,
      ),
    };
    files = Object.entries(texts).map(([name, text]) => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    });
    first = await look();
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("ask again at the next look what was detected as a loss", async () => {
    expect(lost(first)).toContain("Remarks");
    const again = await look(agreementTo(answersOf(first.choices), new Map()));
    expect(again.written).toBe(false);
    expect(lost(again)).toEqual(lost(first));
  });

  it("ask no more what was agreed to, one by one", async () => {
    const agreed = new Map(
      first.unseenLosses.map(({ file, column, loses }) => [keyOf(file, column), loses] as const),
    );
    agreed.delete(keyOf("screening.csv", "Remarks"));
    expect(lost(await look(agreementTo(answersOf(first.choices), agreed)))).toEqual(["Remarks"]);
  });

  it("take a drop of one's own as agreed to, at every later look", async () => {
    const answers = answersOf(first.choices);
    setOfColumn(answers, "screening.csv", "Axis", "fate", "drop");
    const agreed = new Map([[keyOf("screening.csv", "Axis"), "all" as const]]);
    const second = await look(agreementTo(answers, agreed));
    expect(lost(second)).toEqual(lost(first));
    const third = await look(agreementTo(answersOf(second.choices), agreed));
    expect(lost(third)).toEqual(lost(first));
  });
});
