import { createHash, randomBytes } from "node:crypto";
import { readdir, rm } from "node:fs/promises";
import { hostname } from "node:os";
import { basename, dirname, join } from "node:path";
import { ageOf, runs } from "./processes.js";

const machine = createHash("sha256").update(hostname()).digest("hex").slice(0, 6);
/** A partial file of another machine that was not written to for an hour is left over. */
const anHour = 3_600_000;

/** A name beside a file that nobody else takes: the file, the machine, the process and a random part. */
export function partialName(target: string): string {
  const own = `${machine}-${process.pid}-${randomBytes(6).toString("hex")}`;
  return join(dirname(target), `.${stemOf(target)}-${own}.part`);
}

/** Removes what killed runs left of the same file. */
export async function removePartials(target: string): Promise<void> {
  const start = `.${stemOf(target)}-`;
  for (const entry of await readdir(dirname(target)).catch(() => [])) {
    if (!entry.startsWith(start)) continue;
    const [, where, id] =
      /^([0-9a-f]{6})-(\d+)-[0-9a-f]{12}\.part$/.exec(entry.slice(start.length)) ?? [];
    if (where === undefined) continue;
    const path = join(dirname(target), entry);
    const isLeft = where === machine ? !runs(Number(id)) : (await ageOf(path)) > anHour;
    if (isLeft) await rm(path, { force: true }).catch(() => {});
  }
}

/** Enough of the name to tell whose it is, whatever its length. */
function stemOf(target: string): string {
  return basename(target).slice(0, 40);
}
