import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";

it("keeps the answer that a column nobody knows goes, and agrees to its loss at the next call", async () => {
  const folder = await mkdtemp(join(tmpdir(), "meridional-goes-"));
  const file = join(folder, "screening.csv");
  const rows = Array.from(
    { length: 30 },
    (_, row) => `${row + 1},2026-03-10,+1.25,-0.50,90,q${row}x`,
  );
  await writeFile(file, ["Pupil ID,Seen on,R sph,R cyl,R axis,Zzyx", ...rows].join("\n"));
  const to = join(folder, "study");
  const first = await prepareFiles([file], undefined, { to });
  const choices = JSON.parse(JSON.stringify(first.choices));
  expect(choices.files[0].columns.Zzyx.fate).toBeNull();
  for (const one of choices.files) one.holds ??= ["readings"];
  choices.files[0].columns.Zzyx.fate = "drop";
  const second = await prepareFiles([file], choices, { to });
  expect(second.questions).toEqual([]);
  expect(second.unseenLosses).toEqual([{ file: "screening.csv", column: "Zzyx", loses: 30 }]);
  expect(second.choices.files[0]!.columns.Zzyx).toMatchObject({ fate: "drop", loses: 30 });
  const third = await prepareFiles([file], second.choices, { to });
  expect(third.written).toBe(true);
  await rm(folder, { recursive: true });
});
