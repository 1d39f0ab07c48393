// The fourth part of the corpus (corpus/README.md) was measured once before its layouts were known to anybody who
// works on the detector. Its faults are exactly those of that record, but for the ones that `mended` lists.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { prepareFiles } from "../../src/prepare/index.js";
import { fourthPart } from "./corpus/folders.js";
import { judge } from "./corpus/judge.js";
import { writeLayout } from "./corpus/layout.js";

interface Measured {
  readonly layout: string;
  readonly columns: number;
  readonly rightUnasked: number;
  readonly asked: number;
  readonly wrong: readonly string[];
}
const unseen: { readonly layouts: readonly Measured[] } = JSON.parse(
  readFileSync("tests/prepare/corpus/fourth/unseen.json", "utf8"),
);

/** Faults of the record that are gone, as "layout: fault"; from then on their layout is a known one. */
const mended: readonly string[] = [
  "ax-and-at: unit_list.csv, Action: other, not decision",
  "biometer-beside: biometry.csv, K1 axis: axis, not other",
  "biometer-beside: biometry.csv, UDVA: other, not acuity",
  "commas-and-months: ophthalmic unit.tsv, Nursery no: site, not subject",
  "commas-and-months: ophthalmic unit.tsv, Preferential looking (c/deg): cylinder, not other",
  "commas-and-months: link: 0 of 23 children match",
  "dry-and-wet: Hilltop eye clinic.csv holds readings,findings, not findings",
  "eighths-cut: dump.csv, ageyears: other, not age",
  "eighths-cut: dump.csv, rightcyl: other, not cylinder",
  "eighths-cut: dump.csv, leftcyl: other, not cylinder",
  "eighths-cut: exams.csv, rightcyl: other, not cylinder",
  "eighths-cut: exams.csv, leftcyl: other, not cylinder",
  "eighths-cut: exams.csv, mediaopacity: other, not media-opacity",
  "first-days: list.csv, ok?: other, not decision",
  "island-rounds: rounds.csv, agey: other, not age",
  "island-rounds: mainland.csv, cyc: other, not cycloplegia",
  "letters-and-phones: call list.csv, Mailed: date, not other-date",
  "nordlicht-semicolons: reihenuntersuchung.csv, Pupille R (mm): eye undefined, not right",
  "nordlicht-semicolons: rueckmeldung_augenarzt.csv, Visus RA: eye undefined, not right",
  "nordlicht-semicolons: rueckmeldung_augenarzt.csv, Visus LA: eye undefined, not left",
  "orthoptic-clinic: orthoptics_q2.csv, Referred by: examiner, not verification-reason",
  "pipes-in-capitals: SCRDATA.TXT, BIRTHDT: date, not birth-date",
  "pipes-in-capitals: SCRDATA.TXT, RDGCONF: other, not confidence",
  "register-apart: pupils.csv, Class teacher: site, not name",
  "ribera-two-files: consulta.csv, AV cc: other, not acuity",
  "ribera-two-files: consulta.csv, Ciclopléjico: other, not cycloplegia",
  "serra-row-an-eye: rastreio.csv, Data de nascimento: date, not birth-date",
  "stops-and-brackets: Summary (final).csv, Pup. diam. (R.E.) [mm]: other, not pupil",
  "stops-and-brackets: Summary (final).csv, Pup. diam. (L.E.) [mm]: other, not pupil",
  "stops-and-brackets: Follow-up (final).csv, V.A. (R.E.): other, not acuity",
  "stops-and-brackets: Follow-up (final).csv, V.A. (L.E.): other, not acuity",
  "tries-kept: tries.csv, Kept: other, not attempt",
];

const folder = mkdtempSync(join(tmpdir(), "fourth-part-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it("the record holds every layout, and what is called mended was a fault", () => {
  expect(unseen.layouts.map(({ layout }) => layout)).toEqual(fourthPart().map(({ name }) => name));
  const faults = unseen.layouts.flatMap(({ layout, wrong }) =>
    wrong.map((one) => `${layout}: ${one}`),
  );
  expect(mended.filter((one) => !faults.includes(one))).toEqual([]);
});

it("its faults today are those of the first measure without the mended ones", async () => {
  const total = { columns: 0, right: 0, asked: 0, wrong: 0 };
  const first = { columns: 0, right: 0, asked: 0, wrong: 0 };
  const today: string[] = [];
  for (const one of fourthPart()) {
    const paths = await writeLayout(one, join(folder, one.name, "raw"));
    const made = await prepareFiles(paths, undefined, { to: join(folder, one.name, "study") });
    const { columns, right, asked, needless, wrong } = judge(one, made);
    today.push(...wrong.map((fault) => `${one.name}: ${fault}`));
    total.columns += columns;
    total.right += right - (asked - needless.length);
    total.asked += asked;
    total.wrong += wrong.length;
  }
  for (const { columns, rightUnasked, asked, wrong } of unseen.layouts) {
    first.columns += columns;
    first.right += rightUnasked;
    first.asked += asked;
    first.wrong += wrong.length;
  }
  console.info("fourth part, unseen and today:", first, total);
  const left = unseen.layouts.flatMap(({ layout, wrong }) =>
    wrong.map((one) => `${layout}: ${one}`),
  );
  expect(today).toEqual(left.filter((one) => !mended.includes(one)));
}, 120_000);
