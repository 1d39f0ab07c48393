// How each step from files to limits grows with the rows: node tests/bench/scale.mjs [millions of rows...] [--parquet].
// Needs npm run build. Seconds are the processor's, so that other work on the machine does not count; the slope is
// of their logarithms, 1 for "twice the rows, twice the time". A size each is a process of its own. Printed as JSON.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { appendFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const isParquet = process.argv.includes("--parquet");
const sizes = process.argv.slice(2).filter((word) => word !== "--parquet").map(Number);
if (process.env.SCALE_ROWS === undefined) {
  const runs = (sizes.length > 0 ? sizes : [1, 2, 5, 10]).map((millions) => {
    const run = spawnSync(
      process.execPath,
      ["--expose-gc", fileURLToPath(import.meta.url), ...(isParquet ? ["--parquet"] : [])],
      { env: { ...process.env, SCALE_ROWS: String(millions * 1e6) }, encoding: "utf8", stdio: ["ignore", "pipe", "inherit"] },
    );
    if (run.status !== 0) throw new Error(`${millions} million rows: ${run.status ?? run.signal}`);
    const found = JSON.parse(run.stdout);
    console.error(JSON.stringify(found));
    return found;
  });
  const logs = runs.map(({ rows }) => Math.log(rows));
  const slope = (step) => {
    const times = runs.map(({ seconds }) => Math.log(Math.max(0.001, seconds[step])));
    const mean = (list) => list.reduce((sum, one) => sum + one, 0) / list.length;
    const [x, y] = [mean(logs), mean(times)];
    const cross = logs.reduce((sum, log, at) => sum + (log - x) * (times[at] - y), 0);
    return cross / logs.reduce((sum, log) => sum + (log - x) ** 2, 0);
  };
  const steps = Object.keys(runs[0].seconds);
  const slopes = Object.fromEntries(steps.map((step) => [step, Number(slope(step).toFixed(2))]));
  console.log(JSON.stringify({ kind: "scale", format: isParquet ? "parquet" : "csv", runs, slopes }, null, 2));
} else await one(Number(process.env.SCALE_ROWS));

/** Readings of two eyes a child, and findings of every third child. */
async function one(rows) {
  const { createRandom } = await import("../../dist/inference/index.js");
  const face = await import("../../dist/face.js");
  const folder = mkdtempSync(join(tmpdir(), "scale-bench-"));
  try {
    const random = createRandom(23);
    const steps = Array.from({ length: 161 }, (_, at) => ((at - 80) / 10).toFixed(2));
    const power = () => steps[Math.max(0, Math.min(160, 80 + Math.round(12 * random.normal())))];
    const cylinder = () => `-${(random.integer(9) / 4).toFixed(2)}`;
    const write = async (name, from, of, row) => {
      const path = join(folder, name);
      writeFileSync(path, "child,eye,sphere,cyl,axis,day,site\n");
      let text = "";
      for (let at = from; at < of; at++) {
        text += row(at);
        if (text.length > 8e6 || at === of - 1) {
          await appendFile(path, text);
          text = "";
        }
      }
      return path;
    };
    const eyeRow = (child, eye, day) =>
      `${1_000_000 + child},${eye},${power()},${cylinder()},${1 + random.integer(180)},${day},S${child % 200}\n`;
    const children = Math.round((rows * 3) / 8);
    const readings = await write("readings.csv", 0, children, (at) => eyeRow(at, "R", at % 180) + eyeRow(at, "L", at % 180));
    const findings = await write("findings.csv", 0, Math.round(children / 3), (at) =>
      eyeRow(3 * at, "R", 20 + (at % 200)) + eyeRow(3 * at, "L", 20 + (at % 200)),
    );
    const files = { readings, findings };
    if (isParquet) {
      const { DuckDBInstance } = await import("@duckdb/node-api");
      const database = await (await DuckDBInstance.create()).connect();
      for (const name of Object.keys(files)) {
        const path = join(folder, `${name}.parquet`);
        await database.run(`COPY (SELECT * FROM read_csv('${files[name]}')) TO '${path}' (FORMAT parquet)`);
        files[name] = path;
      }
      database.closeSync();
    }
    const columns = { eye: "eye", sphere: "sphere", cylinder: "cyl", axis: "axis", day: "day" };
    const mapping = face.defineColumns({
      kind: "columns",
      version: 1,
      audience: "journal",
      columns: { subject: "child", site: "site" },
      readings: [{ cylinder: "minus", columns }],
      findings: [{ cylinder: "minus", columns }],
    });
    globalThis.gc?.();
    const seconds = {};
    const timed = async (step, work) => {
      const start = process.cpuUsage();
      const made = await work();
      const { user, system } = process.cpuUsage(start);
      seconds[step] = Number(((user + system) / 1e6).toFixed(3));
      return made;
    };
    // what the database alone takes to hand out the same columns
    if (isParquet) {
      await timed("scan by the database", async () => {
        const { DuckDBInstance } = await import("@duckdb/node-api");
        const database = await (await DuckDBInstance.create(":memory:", { threads: "1" })).connect();
        for (const path of Object.values(files)) {
          const result = await database.stream(`SELECT * FROM read_parquet('${path}')`);
          for (let chunk = await result.fetchChunk(); chunk?.rowCount > 0; chunk = await result.fetchChunk()) {
            for (let column = 0; column < chunk.columnCount; column++) chunk.getColumnVector(column);
          }
        }
        database.closeSync();
      });
    }
    const tables = await timed("read", async () => ({
      readings: await face.readReadings(files.readings, { columns: mapping }),
      findings: await face.readFindings(files.findings, { columns: mapping }),
    }));
    const cohort = await timed("link", () => face.linkCohort(tables));
    await timed("describe", () => face.describeCohort(cohort));
    await timed("pairing report", () => face.pairingReport(cohort));
    const rule = (appliesTo) => ({
      ...face.completeRule(face.publishedRules["exam-failure-2001"], { hyperopiaQuantity: "M", myopiaQuantity: "M", anisometropiaQuantity: "M" }),
      appliesTo,
    });
    await timed("rule", () => face.decideCohort(cohort, { refer: rule("reading"), condition: rule("finding") }));
    const pairs = await timed("pairs", () => face.eyePairs(cohort, { eyes: "right" }));
    const condition = pairs.reference.map((value) => (value <= -0.5 ? 1 : 0));
    await timed("area", () =>
      face.areaUnderCurve({ values: pairs.test, condition, subjects: pairs.subjects }, { positiveWhen: "low" }),
    );
    await timed("limits", () => face.limitsOfAgreement(pairs));
    const whole = Object.values(seconds).reduce((sum, one) => sum + one, 0);
    const memory = Number((process.resourceUsage().maxRSS / 1e6).toFixed(2));
    console.log(JSON.stringify({ rows, seconds, timesTheRead: Number((whole / seconds.read).toFixed(2)), gigabytes: memory }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
