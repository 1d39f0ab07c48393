import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { DuckDBVector } from "@duckdb/node-api";
import { expect, test } from "vitest";
import { readReadings } from "../../src/cohort/index.js";
import { type CellVector, cellReader } from "../../src/cohort/read/cellVector.js";
import { plainNumbers } from "../../src/cohort/read/plainNumbers.js";
import { parseNumber } from "../../src/cohort/read/textTable.js";
import { memoryAccess } from "../../src/cohort/read/vectorAccess.js";
import { wordCodes } from "../../src/cohort/read/wordCodes.js";
import { createRandom, type Random } from "../../src/inference/index.js";
import { expectEqual } from "../builders/expectEqual.js";

/** Cells as DuckDB's vector holds them; what is null is missing and leaves rubbish behind. */
function vectorOf(cells: readonly (string | null)[]) {
  const view = new DataView(new ArrayBuffer(16 * cells.length));
  const known = new Uint8Array(8 * Math.ceil(cells.length / 64));
  cells.forEach((cell, row) => {
    const bytes = new TextEncoder().encode(cell ?? "left over");
    view.setUint32(16 * row, bytes.length, true);
    if (bytes.length <= 12) new Uint8Array(view.buffer).set(bytes, 16 * row + 4);
    // the first four bytes, and an address
    else view.setBigUint64(16 * row + 8, BigInt(row) << 8n, true);
    if (cell !== null) known[row >> 3] |= 1 << (row & 7);
  });
  const data = new BigUint64Array(known.buffer);
  const vector = { dataView: view, validity: { data }, getItem: (row: number) => cells[row] };
  return vector as unknown as DuckDBVector;
}

function cellsOf(cells: readonly (string | null)[]): CellVector {
  return cellReader()(memoryAccess.strings(vectorOf(cells)));
}

const pieces = [
  "-",
  "+",
  ".",
  ",",
  "0",
  "1",
  "7",
  "25",
  "e2",
  "_",
  " ",
  "−",
  "é",
  "n/a",
  "123456789",
];

/** Cells of all kinds, most of them nearly numbers. */
function oddCell(random: Random): string | null {
  if (random.uniform() < 0.05) return null;
  if (random.uniform() < 0.3) return (random.normal() * 5).toFixed(random.integer(9));
  return Array.from(
    { length: random.integer(6) },
    () => pieces[random.integer(pieces.length)],
  ).join("");
}

test.each([".", ","] as const)(
  "numbers from bytes are those of parseNumber, decimal %s",
  (decimal) => {
    const random = createRandom(20261126);
    const cells = Array.from({ length: 40_000 }, () => oddCell(random));
    const wanted = cells.map((cell) => parseNumber((cell ?? "").trim(), decimal));
    const numbers = plainNumbers(cellsOf(cells), decimal, new Float64Array(cells.length));
    expectEqual([...numbers], wanted);
    // neither all numbers nor none, and both of more than 12 bytes
    const share = wanted.filter((value) => !Number.isNaN(value)).length / wanted.length;
    expect(share).toBeGreaterThan(0.3);
    expect(share).toBeLessThan(0.9);
    const long = cells.filter(
      (cell, row) => (cell ?? "").length > 12 && !Number.isNaN(wanted[row]),
    );
    expect(long.length).toBeGreaterThan(50);
  },
);

test("a negative zero stays one", () => {
  expect([...plainNumbers(cellsOf(["-0", "-0.00", "0"]), ".", new Float64Array(3))]).toEqual([
    -0, -0, 0,
  ]);
});

test("codes are those of a map of trimmed texts, with and without hashes, chunk after chunk", () => {
  const random = createRandom(7);
  const word = () => {
    const number = random.integer(60_000);
    if (random.uniform() < 0.5) return `S${1_000_000 + number}`;
    if (random.uniform() < 0.3) return `subject-number-${number % 500}`;
    return oddCell(random);
  };
  for (const hashed of [true, false]) {
    const { codes, labels } = wordCodes();
    const codeOf = new Map<string, number>();
    for (let chunk = 0; chunk < 60; chunk++) {
      const cells = Array.from({ length: 2048 }, word);
      const hashes = BigUint64Array.from(cells, hashOf);
      const found = codes(cellsOf(cells), cells.length, hashed ? hashes : null);
      const wanted = cells.map((cell) => {
        const text = (cell ?? "").trim();
        if (!codeOf.has(text)) codeOf.set(text, codeOf.size);
        return codeOf.get(text);
      });
      expectEqual([...found.subarray(0, cells.length)], wanted);
    }
    expect(labels).toEqual([...codeOf.keys()]);
    expect(labels.length).toBeGreaterThan(40_000);
  }
});

/** FNV-1a of 64 bits. */
function hashOf(cell: string | null): bigint {
  let hash = 0xcbf29ce484222325n;
  for (const byte of new TextEncoder().encode(cell ?? "")) {
    hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
  }
  return hash;
}

test.each([
  ["from the first row on", 0],
  ["only far below", 4000],
])("long cells %s: subjects and decimals of more than 12 bytes", async (_, from) => {
  const random = createRandom(11);
  const lines = Array.from({ length: 6000 }, (_, row) => {
    const long = row >= from;
    const subject = `${row >> 1}`.padStart(long ? 36 : 6, "0");
    const sphere = long ? `${random.normal() * 3}` : "-1.25";
    const odd = ["1_000.000000001", "−1.25000000000", "            inf", "1.2500000000 D"][
      row % 400
    ];
    return `${subject};${row % 2 === 0 ? "OD" : "OS"};${odd ?? sphere.replace(".", ",")};-0,50;${row % 181}`;
  });
  const folder = await mkdtemp(join(tmpdir(), "long-"));
  const file = join(folder, "long.csv");
  await writeFile(file, ["id;eye;sphere;cylinder;axis", ...lines, ""].join("\n"));
  const columns = {
    kind: "columns",
    version: 1,
    text: { delimiter: ";", decimal: "," },
    columns: { subject: "id", eye: "eye" },
    readings: [{ columns: { sphere: "sphere", cylinder: "cylinder", axis: "axis" } }],
  };
  try {
    const small = await readReadings(file, { columns });
    const large = await readReadings(file, { columns, largeFile: 0 });
    expect(large.problems.length).toBeGreaterThan(30);
    expectEqual({ ...large, rawText: null }, { ...small, rawText: null });
  } finally {
    await rm(folder, { recursive: true });
  }
});
