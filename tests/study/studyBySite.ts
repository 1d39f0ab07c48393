import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy, type StudyResult } from "../../src/study/index.js";
import { demoPart } from "../builders/demoPart.js";

/** Every so many-th child of the demo programme, given to so many sites by their number. */
export async function studyBySite(
  clusters: "child" | "site",
  { sites, every }: { readonly sites: number; readonly every: number },
): Promise<StudyResult> {
  const folder = await mkdtemp(join(tmpdir(), "meridional-sites-"));
  await demoPart(folder, every);
  for (const name of ["invented-readings.csv", "invented-findings.csv"]) {
    const lines = (await readFile(join(folder, name), "utf8")).split("\n");
    const moved = lines.map((line, at) => {
      const [id, , ...rest] = line.split(",");
      const number = Math.floor(Number(id?.slice(1)) / every) % sites;
      return at === 0 || rest.length === 0 ? line : [id, `site ${number}`, ...rest].join(",");
    });
    await writeFile(join(folder, name), moved.join("\n"));
  }
  const json = JSON.parse(await readFile("data/demo/protocol.json", "utf8"));
  const protocol = { ...json, audience: "journal", clusters, replicates: 60 };
  return runStudy(defineProtocol(protocol), { folder }).finally(() =>
    rm(folder, { recursive: true, force: true }),
  );
}
