import { copyFile, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";

/** Every third child (or another one in `every`) of the invented programme, in a folder: columns, readings, findings. */
export async function demoPart(folder: string, every = 3): Promise<void> {
  await copyFile("data/demo/columns.json", join(folder, "columns.json"));
  for (const file of ["invented-readings.csv", "invented-findings.csv"]) {
    const lines = (await readFile(join("data/demo", file), "utf8")).split("\n");
    const kept = lines.filter((_, at) => at === 0 || Number(lines[at].slice(1, 6)) % every === 0);
    await writeFile(join(folder, file), kept.join("\n"));
  }
}
