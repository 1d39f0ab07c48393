// How long prepare takes beside reading the same files with an audit, in one run, so that the machine is the
// same: node tests/bench/prepare.mjs [rows, 1,000,000 by default]. Needs npm run build. Printed as JSON.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { appendFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { auditFile } from "../../dist/cohort/index.js";
import { createRandom } from "../../dist/inference/index.js";
import { prepareFiles } from "../../dist/prepare/index.js";

const rows = Number(process.argv[2] ?? 1_000_000);
const folder = mkdtempSync(join(tmpdir(), "prepare-bench-"));
const random = createRandom(22);
const quarter = (spread) => (Math.round(4 * spread * random.normal()) / 4).toFixed(2);
const day = (from, days) =>
  new Date(Date.UTC(from, 0, 1) + 86_400_000 * random.integer(days)).toISOString().slice(0, 10);
const powers = () =>
  [0, 0].map(() => `${quarter(1.5)},-${quarter(0.5).replace("-", "")},${1 + random.integer(180)}`).join(",");
const families = "Norvik,Salpeter,Quillon,Marrowby,Tamsin,Vexley,Orrinsen,Pallwick".split(",");

/** Three quarters of the rows are a screening, one quarter is an exam of every third child. */
async function write(name, header, count, row) {
  const path = join(folder, name);
  writeFileSync(path, `${header}\n`);
  for (let from = 0; from < count; from += 20_000) {
    let text = "";
    for (let at = from; at < Math.min(count, from + 20_000); at++) text += `${row(at)}\n`;
    await appendFile(path, text);
  }
  return path;
}
const screened = Math.round(rows * 0.75);
const screening = await write(
  "screening.csv",
  "Child ID,Child Name,DOB,Seen on,School,R Sph,R Cyl,R Axis,L Sph,L Cyl,L Axis,Pupil mm,Screener",
  screened,
  (at) =>
    `${100_000 + at},${families[random.integer(8)]} ${families[random.integer(8)]},${day(2016, 2500)},` +
    `${day(2025, 200)},School ${random.integer(300)},${powers()},${(4 + 2 * random.uniform()).toFixed(1)},N${random.integer(40)} T`,
);
const exam = await write(
  "exam.csv",
  "Child ID,Exam date,R Sph,R Cyl,R Axis,L Sph,L Cyl,L Axis,Drops",
  rows - screened,
  (at) => `${100_000 + 3 * at},${day(2025, 300)},${powers()},${random.uniform() < 0.8 ? "yes" : "no"}`,
);

const eyes = Object.fromEntries(
  ["R", "L"].map((side) => [
    side === "R" ? "right" : "left",
    { sphere: `${side} Sph`, cylinder: `${side} Cyl`, axis: `${side} Axis` },
  ]),
);
const mapping = (kind) => ({
  ...{ kind: "columns", version: 1, columns: { subject: "Child ID" } },
  [kind]: [{ ...eyes, cylinder: "minus" }],
});
/** Seconds of the processor: other work on the machine does not count. */
const seconds = async (work) => {
  const start = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
};
try {
  const read = async () => {
    await auditFile(screening, { columns: mapping("readings") });
    await auditFile(exam, { columns: mapping("findings") });
  };
  const reading = await seconds(read);
  const to = join(folder, "study");
  const files = [screening, exam];
  let first;
  const asking = await seconds(async () => {
    first = await prepareFiles(files, undefined, { to });
  });
  const writing = await seconds(async () => {
    const made = await prepareFiles(files, first.choices, { to });
    if (!made.written) throw new Error(`not written: ${JSON.stringify(made.questions)}`);
  });
  const again = await seconds(read);
  const mean = (reading + again) / 2;
  const ratios = { asking: asking / mean, writing: writing / mean };
  console.log(JSON.stringify({ rows, reading, again, asking, writing, ratios }));
} finally {
  rmSync(folder, { recursive: true });
}
