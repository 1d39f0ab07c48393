// What a killed, starved or hindered run leaves behind. A short form here; the whole is a command of its own,
// whose table is committed:
//   npm run faults
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type FaultCount, faults } from "./faults.js";

const isLong = process.env.FAULTS === "long";
const table = new URL("./result.json", import.meta.url);
const only = process.env.FAULT;

describe("nothing is lost, and nothing is left over after the next run", () => {
  const counts: FaultCount[] = [];
  for (const { fault, long, short, make } of faults) {
    const tries = isLong ? long : short;
    if (tries === 0 || (only !== undefined && !fault.includes(only))) continue;
    it(fault, { timeout: 7_200_000 }, async () => {
      const folder = await mkdtemp(join(tmpdir(), "meridional-faults-"));
      try {
        const count = { fault, ...(await make(folder, tries)) };
        if (isLong) {
          counts.push(count);
          console.log(JSON.stringify(count));
          const known: FaultCount[] = await readFile(table, "utf8").then(
            (text) => JSON.parse(text).faults,
            () => [],
          );
          const all = [...known.filter((one) => one.fault !== fault), count];
          const inOrder = faults.flatMap(
            (one) => all.find((other) => other.fault === one.fault) ?? [],
          );
          await writeFile(
            table,
            `${JSON.stringify({ kind: "faults", faults: inOrder }, null, 2)}\n`,
          );
        }
        expect(count).toMatchObject({ lost: 0, litter: 0 });
        expect(count.finished + count.refused + count.ended).toBe(count.tries);
      } finally {
        await rm(folder, { recursive: true, force: true });
      }
    });
  }
});
