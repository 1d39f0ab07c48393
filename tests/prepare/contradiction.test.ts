// Every name of a column over every other kind of cells: what the cells contradict is asked, goes by what the
// cells are, or is dropped; it is never taken for what the name says. The law needs no list of known files.
import { describe, expect, it } from "vitest";
import { detectFiles } from "../../src/prepare/index.js";

const rows = 40;
const at = <Item>(list: readonly Item[], row: number): Item => list[row % list.length]!;
const families = "Norvik Salpeter Quillon Marrowby Tamsin Vexley Orrinsen Pallwick".split(" ");

/** Kinds of cells of which none can be taken for another. */
const cells: Readonly<Record<string, (row: number) => string>> = {
  dioptres: (row) => (((row * 7) % 40) / 4 - 4.25).toFixed(2),
  axes: (row) => String(1 + ((row * 47) % 180)),
  notation: (row) => `+${at([1, 2, 3], row)}.25 -0.50 x ${1 + ((row * 31) % 180)}`,
  dates: (row) => `2026-0${1 + (row % 9)}-${10 + (row % 18)}`,
  months: (row) => String(40 + ((row * 11) % 60)),
  ids: (row) => `KD${40_311 + 17 * row}`,
  names: (row) => `${at(["Aino", "Bela", "Cira", "Dov", "Elna"], row)} ${at(families, row)}`,
  "e-mail": (row) => `parent${row}@example.org`,
  places: (row) => at(["Oak Hill", "Riverbend", "Corvale"], row),
  "yes or no": (row) => at(["yes", "no", "no"], row),
  eyes: (row) => at(["OD", "OS"], row),
  sexes: (row) => at(["female", "male"], row),
  acuity: (row) => `6/${at([6, 9, 12, 18], row)}`,
  text: (row) => `sits close to the board and was tired, seen ${row} times`,
};

/** Names of what a mapping reads or `prepare` turns into something, and the cells that go with them. */
const names: readonly (readonly [name: string, is: string, fits: readonly string[]])[] = [
  ["R Sphere", "sphere", ["dioptres"]],
  ["R Cylinder", "cylinder", ["dioptres"]],
  // whole numbers of months lie where axes lie
  ["R Axis", "axis", ["axes", "months"]],
  ["Rx R", "prescription", ["notation"]],
  ["Birth date", "birth-date", ["dates"]],
  ["Screening date", "date", ["dates"]],
  ["Age in months", "age", ["months", "axes"]],
  // codes and words that repeat can be sites, and are coded
  ["School", "site", ["places", "eyes", "sexes", "yes or no", "acuity", "months", "names"]],
  ["Eye", "eye", ["eyes"]],
  ["Sex", "sex", ["sexes"]],
  ["Cycloplegia", "cycloplegia", ["yes or no"]],
  ["Strabismus", "strabismus", ["yes or no"]],
  ["Result", "decision", ["yes or no"]],
  ["VA R", "acuity", ["acuity", "dioptres", "axes", "months"]],
  ["Pupil diameter mm", "pupil", []],
  ["Confidence", "confidence", ["axes", "months"]],
  ["PD", "interpupillary", ["months"]],
];

function detected(name: string, cell: (row: number) => string) {
  const columns: [string, (row: number) => string][] = [
    ["Child ID", (row) => `C${1000 + row}`],
    ["L Sph", (row) => (((row * 5) % 24) / 4 - 2).toFixed(2)],
    ["L Cyl", (row) => (-((row * 3) % 8) / 4).toFixed(2)],
    ["L Ax", (row) => String(1 + ((row * 29) % 180))],
    [name, cell],
  ];
  const table = {
    ...{ file: "screening.csv", header: columns.map(([column]) => column), n: rows, rejected: [] },
    line: Int32Array.from({ length: rows }, (_, row) => row + 2),
    columns: columns.map(([, text]) => {
      const words = Array.from({ length: rows }, (_, row) => text(row));
      const labels = [...new Set(words)];
      return { codes: Int32Array.from(words, (word) => labels.indexOf(word)), labels };
    }),
  };
  return detectFiles([table])[0]!.columns.find(({ column }) => column === name)!;
}

describe("a name that its cells contradict", () => {
  it.each(names)("%s", (name, is, fits) => {
    for (const [kind, cell] of Object.entries(cells)) {
      const found = detected(name, cell);
      const taken = found.is === is && found.questions.length === 0;
      expect([kind, taken && !fits.includes(kind)]).toEqual([kind, false]);
    }
  });

  it.each(names.filter(([, , fits]) => fits.length > 0))(
    "%s over its own cells",
    (name, is, fits) => {
      expect(detected(name, cells[fits[0]!]!).is).toBe(is);
    },
  );
});

describe("cells that say who a child is", () => {
  it.each(["names", "e-mail", "ids"])("%s are kept under no name", (kind) => {
    for (const [name] of names) {
      const found = detected(name, cells[kind]!);
      const kept = !["name", "e-mail", "record-number", "subject", "site"].includes(found.is);
      expect([name, kept && found.questions.length === 0]).toEqual([name, false]);
    }
  });
});
