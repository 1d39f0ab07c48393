import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";

it("a column nobody knows goes by a person's answer, which agrees to its loss", async () => {
  const folder = await mkdtemp(join(tmpdir(), "meridional-goes-"));
  const file = join(folder, "screening.csv");
  const rows = (count: number) =>
    Array.from({ length: count }, (_, row) => `${row + 1},2026-03-10,+1.25,-0.50,90,q${row}x`);
  const write = (count: number) =>
    writeFile(file, ["Pupil ID,Seen on,R sph,R cyl,R axis,Zzyx", ...rows(count)].join("\n"));
  await write(30);
  const to = join(folder, "study");
  const first = await prepareFiles([file], undefined, { to });
  const choices = JSON.parse(JSON.stringify(first.choices));
  expect(choices.files[0].columns.Zzyx.fate).toBeNull();
  for (const one of choices.files) one.holds ??= ["readings"];
  choices.files[0].columns.Zzyx.fate = "drop";
  const second = await prepareFiles([file], choices, { to });
  expect([second.questions, second.unseenLosses, second.written]).toEqual([[], [], true]);
  expect(second.choices.files[0]!.columns.Zzyx).toMatchObject({ fate: "drop", loses: 30 });
  // a greater loss than the one that was agreed to is open anew
  await write(31);
  const third = await prepareFiles([file], second.choices, { to });
  expect(third.unseenLosses).toEqual([{ file: "screening.csv", column: "Zzyx", loses: 31 }]);
  await rm(folder, { recursive: true });
});
