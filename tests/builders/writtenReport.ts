import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect } from "vitest";

/** Every file of a written report, by path, checked against its manifest. */
export async function checkedFiles(report: string): Promise<string[]> {
  const manifest = JSON.parse(await readFile(join(report, "manifest.json"), "utf8"));
  for (const [path, hash] of Object.entries(manifest.files)) {
    const bytes = await readFile(join(report, path));
    expect(createHash("sha256").update(bytes).digest("hex"), path).toBe(hash);
  }
  return Object.keys(manifest.files);
}
