// Prepare, draft, audit and study of a layout give the numbers of the same cohort in the project's own form.
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";
import { auditFile } from "../../src/cohort/index.js";
import { prepareFiles } from "../../src/prepare/index.js";
import { defineProtocol } from "../../src/protocol/index.js";
import { draftStudy, runStudy } from "../../src/study/index.js";
import type { InventedChild } from "./corpus/first/cohort.js";
import { firstHalf } from "./corpus/first/index.js";
import { type WrittenLayout, writeLayout } from "./corpus/layout.js";

/** A layout through all four steps, every question answered by what is true of it. */
async function throughPrepare(one: WrittenLayout, at: string) {
  const paths = await writeLayout(one, join(at, "raw"));
  const to = join(at, "study");
  const first = await prepareFiles(paths, undefined, { to });
  const choices = JSON.parse(readFileSync(join(to, "prepare.json"), "utf8"));
  if (choices.ids.ignore === null) choices.ids.ignore = one.layout.ignore;
  for (const file of choices.files) {
    const truth = one.layout.files.find((each) => each.file === file.file)!;
    for (const [name, column] of Object.entries<Record<string, unknown>>(file.columns)) {
      if (column.order === null) column.order = truth.columns[name]!.order;
    }
  }
  const made = first.written ? first : await prepareFiles(paths, choices, { to });
  expect(made.questions).toEqual([]);
  expect(made.written).toBe(true);
  const path = (kind: string) =>
    join(to, made.files.find(({ holds }) => holds?.includes(kind))!.as);
  const sources = { readings: path("readings"), findings: path("findings"), folder: to };
  const { files } = await draftStudy(sources);
  const columns = files["columns.json"]!;
  for (const kind of ["readings", "findings"] as const) {
    const audit = await auditFile(sources[kind], { columns, only: kind });
    expect(audit.identifiers).toEqual([]);
    expect(audit.parts.flatMap(({ faults }) => faults)).toEqual([]);
    expect(audit.setAside).toBe(0);
  }
  return study(files["protocol.json"]!, to);
}

/** What the layout writes where the instrument gave nothing: an empty cell says that nobody tried. */
function statusOfNothing({ texts }: WrittenLayout): string {
  const text = Object.values(texts).join("");
  if (/over range/.test(text)) return "over-range";
  return /No reading|UNABLE|,error,|\terror\t/.test(text) ? "unreadable" : "not-attempted";
}

/** The same cohort in the project's own form: rows an eye, day numbers, names of fields. */
async function ownForm(cohort: readonly InventedChild[], one: WrittenLayout, at: string) {
  const of = (child: InventedChild) => one.layout.files.length > 1 || child.exam !== null;
  const nothing = statusOfNothing(one);
  const day = (iso: string) => (Date.parse(iso) - Date.UTC(2025, 0, 1)) / 86_400_000;
  const rows = (kind: "reading" | "exam") => {
    const decided =
      kind === "reading" &&
      one.layout.files.some(
        (file) =>
          file.holds.includes("readings") &&
          Object.values(file.columns).some(({ is }) => is === "decision"),
      );
    const lines = [
      `subject,eye,day,sphere,cylinder,axis,status${decided ? ",programmeDecision" : ""}`,
    ];
    for (const child of cohort) {
      for (const eye of ["right", "left"] as const) {
        const power = kind === "reading" ? child.reading[eye] : child.exam?.[eye];
        if (power === undefined || (kind === "reading" && !of(child))) continue;
        const seen = kind === "reading" ? child.seen : child.exam!.day;
        const cells =
          power === null
            ? `,,,${nothing}`
            : `${power.sphere},${power.cylinder},${power.axis},measured`;
        const decision = decided ? `,${child.refer ? "refer" : "pass"}` : "";
        lines.push(`${child.id},${eye},${day(seen)},${cells}${decision}`);
      }
    }
    return `${lines.join("\n")}\n`;
  };
  writeFileSync(join(at, "readings.csv"), rows("reading"));
  writeFileSync(join(at, "findings.csv"), rows("exam"));
  const sources = {
    readings: join(at, "readings.csv"),
    findings: join(at, "findings.csv"),
    folder: at,
  };
  const { files } = await draftStudy(sources);
  writeFileSync(join(at, "columns.json"), JSON.stringify(files["columns.json"]));
  return study(files["protocol.json"]!, at);
}

async function study(json: object, at: string) {
  const protocol = defineProtocol({
    ...json,
    audience: "journal",
    linkage: { daysBetween: [0, 150] },
  });
  return runStudy({ ...protocol, indexTest: { ...protocol.indexTest } }, { folder: at });
}

/**
 * The numbers alone, to 9 digits: the rows are in the order of random study numbers, and so the last bits may be
 * others, and the draws of a bootstrap are.
 */
function numbersOf({
  agreement,
  astigmatism,
  conditions,
}: Awaited<ReturnType<typeof study>>): unknown {
  return JSON.parse(
    JSON.stringify({ agreement, astigmatism, conditions }, (key, value) => {
      // words are no numbers: of several reasons the one of the first row is named; cells stand in the rows' order
      if (key === "cells" && Array.isArray(value))
        return value.map((one) => JSON.stringify(one)).sort();
      if (key === "reason") return "said";
      if (typeof value === "number") return Number(value.toPrecision(9));
      const drawn = /bootstrap|draw/i.test(value?.method ?? "") && "low" in value;
      return drawn ? { ...value, low: "drawn", high: "drawn", se: "drawn" } : value;
    }),
  );
}

// those with invented days of their own are other studies, and one with several corrections asks for a choice
const otherStudies = ["undecided-dates", "day-numbers", "reasons"];
export const roundTripLayouts = (cohort: readonly InventedChild[]): WrittenLayout[] =>
  firstHalf(cohort).filter(({ name }) => !otherStudies.includes(name));

/** The same numbers by both ways. */
export async function roundTrip(
  cohort: readonly InventedChild[],
  one: WrittenLayout,
  folder: string,
): Promise<void> {
  const found = await throughPrepare(one, mkdtempSync(join(folder, "raw-")));
  const expected = await ownForm(cohort, one, mkdtempSync(join(folder, "own-")));
  expect(numbersOf(found)).toEqual(numbersOf(expected));
}
