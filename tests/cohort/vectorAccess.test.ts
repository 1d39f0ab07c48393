import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance, type DuckDBVector } from "@duckdb/node-api";
import fc from "fast-check";
import { expect, test, vi } from "vitest";
import { chunkReader } from "../../src/cohort/read/chunkTable.js";
import type { TextTable } from "../../src/cohort/read/textTable.js";
import {
  documentedAccess,
  memoryAccess,
  sameEitherWay,
  tryOut,
  type VectorAccess,
  vectorAccess,
} from "../../src/cohort/read/vectorAccess.js";
import { createRandom } from "../../src/inference/index.js";

vi.mock("../../src/cohort/read/vectorAccess.js", async (original) => {
  const actual = await original<typeof import("../../src/cohort/read/vectorAccess.js")>();
  return { ...actual, vectorAccess: vi.fn(actual.vectorAccess) };
});

const connect = async () => (await DuckDBInstance.create(":memory:")).connect();

// where this fails after an update of the binding, files are read by `documentedAccess`: look what moved
test("the installed release holds its columns as known, and memory is chosen", async () => {
  const connection = await connect();
  expect(await tryOut(connection)).toBe(true);
  expect(await vectorAccess(connection)).toBe(memoryAccess);
});

interface Fake {
  dataView?: DataView;
  validity?: { data: BigUint64Array | null };
  items?: unknown;
  itemCount: number;
  getItem: (row: number) => unknown;
}

/** The vectors of two cells, "-1.25" and a missing one, as the known release has them, and then changed. */
function changed(change: (vectors: { text: Fake; number: Fake; hash: Fake }) => void) {
  const dataView = new DataView(new ArrayBuffer(32));
  dataView.setUint32(0, 5, true);
  new Uint8Array(dataView.buffer).set(new TextEncoder().encode("-1.25"), 4);
  new Uint8Array(dataView.buffer).fill(7, 16);
  const item = <Item>(items: ArrayLike<Item>) => ({
    items,
    itemCount: 2,
    getItem: (row: number) => items[row],
  });
  const text: Fake = {
    dataView,
    validity: { data: BigUint64Array.of(1n) },
    itemCount: 2,
    getItem: (row) => ["-1.25", null][row],
  };
  const vectors = {
    text,
    number: item(Float64Array.of(5, 0)) as Fake,
    hash: item(BigUint64Array.of(1n, 2n)) as Fake,
  };
  change(vectors);
  const columns = [vectors.text, vectors.text, vectors.number, vectors.hash];
  return { getColumnVector: (at: number) => columns[at] as unknown as DuckDBVector };
}

test("a release with other members, or other bytes behind them, is noticed", () => {
  expect(sameEitherWay(changed(() => {}))).toBe(true);
  const changes: Parameters<typeof changed>[0][] = [
    ({ text }) => delete text.dataView,
    ({ text }) => delete text.validity,
    ({ number }) => delete number.items,
    ({ hash }) => delete hash.items,
    // shorter or longer cells, another order of bytes, the mask the other way round, or none
    ({ text }) => {
      text.dataView = new DataView(text.dataView!.buffer, 0, 16);
    },
    ({ text }) => text.dataView!.setUint32(0, 5, false),
    ({ text }) => text.dataView!.setUint8(8, 54),
    ({ text }) => {
      text.validity = { data: BigUint64Array.of(2n) };
    },
    ({ text }) => {
      text.validity = { data: null };
    },
    ({ number }) => {
      number.items = [5, 0];
    },
    ({ number }) => {
      number.items = Float32Array.of(5, 0);
    },
    ({ hash }) => {
      hash.items = BigInt64Array.of(1n, 2n);
    },
    ({ hash }) => {
      hash.items = BigUint64Array.of(2n, 1n);
    },
  ];
  expect(changes.map((change) => sameEitherWay(changed(change)))).toEqual(changes.map(() => false));
});

const cell = fc.option(
  fc.oneof(
    fc.double({ min: -20, max: 20, noNaN: true }).map((value) => value.toFixed(2)),
    fc.double().map(String),
    fc.constantFrom(
      "",
      " ",
      "OD",
      "n/a",
      "−1.25",
      " -0,50 ",
      "+-1",
      "1_000",
      "a subject of 20 bytes",
    ),
    fc.string({ unit: "grapheme", maxLength: 16 }),
  ),
);

/** What a table says of two columns, one of numbers and words at once, one of words. */
function content(table: TextTable) {
  return {
    n: table.n,
    numbers: [...table.numbers(0)],
    odd: table.oddRows(2),
    words: [0, 1].map((column) => {
      const { codes, labels } = table.coded(column);
      return Array.from({ length: table.n }, (_, row) => labels[codes[row]]);
    }),
    texts: [0, 1].map((column) =>
      Array.from({ length: table.n }, (_, row) => table.text(column, row)),
    ),
  };
}

test("both ways give the same tables on random cells, long columns cast by DuckDB or not", async () => {
  const connection = await connect();
  await connection.run("create table cells (row integer, c0 varchar, c1 varchar, c2 varchar)");
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 150 }),
      fc.subarray([0, 1, 2]),
      fc.constantFrom(".", ",") as fc.Arbitrary<"." | ",">,
      // more rows than one chunk holds
      fc.integer({ min: 1, max: 40 }),
      async (rows, long, decimal, times) => {
        await connection.run("truncate cells");
        const appender = await connection.createAppender("cells");
        for (let row = 0; row < rows.length * times; row++) {
          appender.appendInteger(row);
          for (const text of rows[row % rows.length]) {
            if (text === null) appender.appendNull();
            else appender.appendVarchar(text);
          }
          appender.endRow();
        }
        appender.closeSync();
        const read = async (access: VectorAccess) => {
          const use = {
            numeric: new Map([[0, [-9, 9]] as const, [2, [-9, 9]] as const]),
            coded: new Set([0, 1]),
          };
          const reader = chunkReader("cells", ["a", "b", "c"], use, {
            decimal,
            long: new Set(long),
            native: new Set<number>(),
            access,
          });
          const result = await connection.stream(`select ${reader.select} from cells order by row`);
          const tables: ReturnType<typeof content>[] = [];
          for (;;) {
            const chunk = await result.fetchChunk();
            if (chunk === null || chunk.rowCount === 0) return tables;
            tables.push(content(reader.table(chunk)));
          }
        };
        expect(await read(documentedAccess)).toEqual(await read(memoryAccess));
      },
    ),
    { numRuns: 60, seed: 1 },
  );
});

test("a file is read the same without the binding's members", async () => {
  const random = createRandom(5);
  const words = ["-1.25", "0", "n/a", "", "−2.00", "1_000.000000001", "12.3456789012345", "99.99"];
  const lines = Array.from({ length: 5000 }, (_, row) => {
    const [sphere, cylinder] = [0, 1].map(() => words[random.integer(words.length)]);
    return `subject ${row >> 1},${row % 2 === 0 ? "OD" : "OS"},${sphere},${cylinder},${row % 181}`;
  });
  const folder = await mkdtemp(join(tmpdir(), "members-"));
  const file = join(folder, "table.csv");
  await writeFile(file, ["subject,eye,sphere,cylinder,axis", ...lines, ""].join("\n"));
  try {
    // read anew, so that the reader meets the spy where another file loaded it before
    vi.resetModules();
    const { readReadings } = await import("../../src/cohort/index.js");
    const { vectorAccess } = await import("../../src/cohort/read/vectorAccess.js");
    const byMemory = await readReadings(file, { largeFile: 0 });
    vi.mocked(vectorAccess).mockResolvedValueOnce(documentedAccess);
    const documented = await readReadings(file, { largeFile: 0 });
    expect(vi.mocked(vectorAccess).mock.settledResults.map(({ value }) => value)).toEqual([
      memoryAccess,
      memoryAccess,
      documentedAccess,
    ]);
    expect(documented).toEqual(byMemory);
    expect(documented.problems.length).toBeGreaterThan(100);
  } finally {
    await rm(folder, { recursive: true });
  }
});
