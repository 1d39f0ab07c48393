import { readdirSync } from "node:fs";
import { join, posix } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as files from "../../src/platform/browser/files.js";
import * as hashes from "../../src/platform/browser/hashes.js";
import * as paths from "../../src/platform/browser/paths.js";
import * as random from "../../src/platform/browser/random.js";
import * as nodeHashes from "../../src/platform/node/hashes.js";

const sides = join(import.meta.dirname, "../../src/platform");
// What one side alone has: how Node.js writes a file, and what a page gives to its own side.
const ofNodeAlone = ["partialFiles.ts", "processes.ts"];
const ofPageAlone = ["index.ts", "memoryFiles.ts"];
const moreNames: { readonly [file: string]: readonly string[] } = {
  "node/writeFileWhole.ts": ["syncFolder", "writeNew"],
  "browser/files.ts": ["keepInMemory", "pathsWithin"],
  "browser/libraries.ts": ["drawWith"],
  "browser/notebookHost.ts": ["showWith"],
  "browser/packageFiles.ts": ["givePackageFile"],
  "browser/paths.ts": ["workIn"],
};

describe("the two sides of the platform", () => {
  const names = (side: string) => readdirSync(join(sides, side)).sort();

  it("are files of the same names", () => {
    expect(names("node").filter((name) => !ofNodeAlone.includes(name))).toEqual(
      names("browser").filter((name) => !ofPageAlone.includes(name)),
    );
  });

  it("give the same names to the other rooms", async () => {
    for (const file of names("browser").filter((name) => !ofPageAlone.includes(name))) {
      const [here, there] = await Promise.all(
        ["node", "browser"].map(async (side) =>
          Object.keys(
            await import(`../../src/platform/${side}/${file.replace(/\.ts$/, "")}.ts`),
          ).filter((name) => !(moreNames[`${side}/${file}`] ?? []).includes(name)),
        ),
      );
      expect(there.sort(), file).toEqual(here.sort());
    }
  });
});

describe("a page's side", () => {
  it("hashes as published", () => {
    // FIPS 180-4, example of one block; RFC 4231, test case 2
    expect(hashes.sha256("abc")).toBe(
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
    expect(hashes.hmacSha256("Jefe", "what do ya want for nothing?")).toBe(
      "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
    );
  });

  it("hashes any text and any bytes as Node.js does", async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: "binary" }), fc.uint8Array(), async (text, bytes) => {
        expect(hashes.sha256(text)).toBe(nodeHashes.sha256(text));
        expect(hashes.sha256(bytes)).toBe(nodeHashes.sha256(bytes));
        expect(hashes.sha256Base64(text)).toBe(nodeHashes.sha256Base64(text));
        files.keepInMemory("/hashed", bytes);
        const parts = () => files.partsOf("/hashed", 7);
        expect(await hashes.sha256OfParts(parts())).toBe(await nodeHashes.sha256OfParts(parts()));
      }),
    );
  });

  it("writes paths as POSIX does", () => {
    const name = fc.constantFrom("a", "b", "..", ".", "c d", "");
    const path = fc
      .tuple(fc.constantFrom("", "/"), fc.array(name, { maxLength: 5 }))
      .map(([start, parts]) => start + parts.join("/"));
    fc.assert(
      fc.property(path, path, (one, other) => {
        expect(paths.resolve(one, other)).toBe(posix.resolve("/", one, other));
        expect(paths.relative(one, other)).toBe(
          posix.relative(posix.resolve("/", one), posix.resolve("/", other)),
        );
        expect(paths.basename(paths.resolve(one))).toBe(posix.basename(paths.resolve(one)));
        expect(paths.dirname(paths.resolve(one))).toBe(posix.dirname(paths.resolve(one)));
      }),
    );
    expect(paths.join("out", "../x", "y.csv")).toBe("x/y.csv");
    expect(paths.dirname("readings.csv")).toBe(".");
  });

  it("keeps files in folders, and forgets what is removed", async () => {
    files.keepInMemory("/study/readings.csv", "a\n");
    files.keepInMemory("/study/figures/one.svg", "<svg/>");
    expect(await files.namesIn("study")).toEqual(["readings.csv", "figures"]);
    expect(await files.whatIs("/study/figures")).toEqual({ kind: "folder", size: 0 });
    const before = await files.fileState("/study/readings.csv");
    files.keepInMemory("/study/readings.csv", "b\n");
    expect(await files.fileState("/study/readings.csv")).not.toBe(before);
    await files.removeFile("/study/readings.csv");
    expect(await files.whatIs("/study/readings.csv")).toBeNull();
    await expect(files.readText("/study/readings.csv")).rejects.toMatchObject({ code: "ENOENT" });
  });

  it("draws whole numbers evenly, and none outside", () => {
    const counts = new Array<number>(7).fill(0);
    for (let draw = 0; draw < 7000; draw++) counts[random.secretInteger(7)]++;
    // 1,000 each expected, standard deviation 29.3; six of them happen once in 10^8 runs
    expect(Math.min(...counts)).toBeGreaterThan(820);
    expect(Math.max(...counts)).toBeLessThan(1180);
    expect(() => random.secretInteger(0)).toThrow("from 1 to 2^48, got 0");
    expect(random.secretHex(6)).toMatch(/^[0-9a-f]{12}$/);
  });
});
