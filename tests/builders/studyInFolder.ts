import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { defineProtocol } from "../../src/protocol/index.js";
import { runStudy } from "../../src/study/index.js";
import type { PageStudy } from "./pageStudies.js";

/** The same study by the package on Node.js, as JSON holds its result. */
export async function studyInFolder({ protocol, files }: PageStudy): Promise<unknown> {
  const folder = await mkdtemp(join(tmpdir(), "meridional-study-"));
  try {
    for (const [name, text] of Object.entries(files)) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), text);
    }
    return JSON.parse(JSON.stringify(await runStudy(defineProtocol(protocol), { folder })));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
