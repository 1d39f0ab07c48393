import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { runByFile } from "./byFile.mjs";
import { keyOf, mutantsOf, rooms, shuffled } from "./mutants.mjs";
import { runMutants } from "./runMutants.mjs";

// Runs the sampled mutants of each room and keeps what became of them in out/mutation/ROOM.json, so that a
// run that was stopped goes on where it was, with the sample that it began with. `--again` runs those that
// lived once more, after a new test.
// `--write` runs nothing: it puts the counts into tests/mutation/result.json and keeps the reasons there.
const { values } = parseArgs({
  options: {
    rooms: { type: "string", default: rooms.join(",") },
    seed: { type: "string", default: "20" },
    each: { type: "string", default: "286" },
    piece: { type: "string", default: "40" },
    tests: { type: "string" },
    ending: { type: "string", default: "test,slow" },
    again: { type: "boolean", default: false },
    write: { type: "boolean", default: false },
    concurrency: { type: "string", default: "1" },
  },
});

// Tests of other rooms that state what a room does.
const neighbours = {
  rows: ["inference"],
  refraction: [],
  rules: [],
  accuracy: [],
  agreement: [],
  thresholds: [],
  study: [],
};

/** Rooms whose files of tests run a study before their first test. */
const byFile = ["study"];

const folder = "out/mutation";
mkdirSync(folder, { recursive: true });
const fileOf = (room) => join(folder, `${room}.json`);
const read = (room) =>
  existsSync(fileOf(room)) ? JSON.parse(readFileSync(fileOf(room), "utf8")) : [];

/** The sample that was begun with, of what still stands in the source; else a new one. */
function sampleOf(room, all) {
  const path = join(folder, `${room}.sample.json`);
  if (!existsSync(path)) {
    const keys = shuffled(all, Number(values.seed)).map((mutant) => keyOf(mutant));
    writeFileSync(path, JSON.stringify(keys.slice(0, Number(values.each))));
  }
  const byKey = new Map(all.map((mutant) => [keyOf(mutant), mutant]));
  return JSON.parse(readFileSync(path, "utf8")).flatMap((key) => byKey.get(key) ?? []);
}

const lived = ({ status }) => ["Survived", "NoCoverage"].includes(status);

async function runRoom(room) {
  const all = await mutantsOf(room);
  const sample = sampleOf(room, all);
  const known = new Map(read(room).map((one) => [one.key, one]));
  const left = sample.filter((mutant) => {
    const before = known.get(keyOf(mutant));
    return values.again ? before && lived(before) : !before;
  });
  console.log(`${room}: ${all.length} mutants, ${sample.length} sampled, ${left.length} to run`);
  if (byFile.includes(room)) return await runRoomByFile(room, left, known);
  const tests = values.tests ?? [room, ...neighbours[room]].join(",");
  for (let start = 0; start < left.length; start += Number(values.piece)) {
    const piece = left.slice(start, start + Number(values.piece));
    for (const one of await runMutants(piece, tests, Number(values.concurrency))) {
      const before = known.get(one.key);
      known.set(one.key, { ...one, ...(before && { first: before.first ?? before.status }) });
    }
    writeFileSync(fileOf(room), JSON.stringify([...known.values()], null, 1));
  }
}

async function runRoomByFile(room, mutants, known) {
  const endings = values.ending.split(",").map((ending) => `.${ending}.ts`);
  const files = readdirSync(join("tests", room), { recursive: true })
    .filter((name) => endings.some((ending) => name.endsWith(ending)))
    // a script of a page is taken as text, and what switches mutants is not on the page
    .filter((name) => !/benchScript/i.test(name))
    .map((name) => join("tests", room, name));
  await runByFile(mutants, files, (one) => {
    const before = known.get(one.key);
    known.set(one.key, { ...one, ...(before && { first: before.first ?? before.status }) });
    writeFileSync(fileOf(room), JSON.stringify([...known.values()], null, 1));
    console.log(one.status, one.key, one.seconds ?? "");
  });
}

/** The counts of a room. A survivor with a reason cannot be told by any test, and is no part of its score. */
async function countsOf(room, reasons) {
  const results = read(room);
  const killed = results.filter(({ status }) => status === "Killed" || status === "Timeout").length;
  const survived = results.filter(lived);
  const withReason = survived.filter(({ key }) => reasons.has(key)).length;
  const atFirst = results.filter((one) => lived({ status: one.first ?? one.status })).length;
  const share = (part, all) => (all === 0 ? null : Math.round((1000 * part) / all) / 1000);
  return {
    room,
    mutants: (await mutantsOf(room)).length,
    run: results.length,
    survivedAtFirst: atFirst,
    scoreAtFirst: share(results.length - atFirst, results.length),
    killed,
    survived: survived.length,
    withReason,
    score: share(killed, killed + survived.length - withReason),
  };
}

/** A room that was not run here keeps what an earlier run, on an earlier commit, left of it. */
async function write() {
  const path = "tests/mutation/result.json";
  const earlier = existsSync(path)
    ? JSON.parse(readFileSync(path, "utf8"))
    : { rooms: [], survivors: [] };
  const reasons = new Map(earlier.survivors.flatMap(({ key, reason }) => (reason ? [[key, reason]] : [])));
  const commit = execFileSync("git", ["rev-parse", "--short", "HEAD"], { encoding: "utf8" }).trim();
  const counts = [];
  const survivors = [];
  for (const room of rooms) {
    const before = earlier.rooms.find((one) => one.room === room);
    if (existsSync(fileOf(room)) || before === undefined) {
      counts.push({ ...(await countsOf(room, reasons)), commit });
      for (const { key } of read(room).filter(lived)) {
        survivors.push({ key, ...(reasons.has(key) && { reason: reasons.get(key) }) });
      }
    } else {
      counts.push({ ...before, commit: before.commit ?? earlier.commit });
      survivors.push(...earlier.survivors.filter(({ key }) => key.startsWith(`src/${room}/`)));
    }
  }
  const result = { kind: "mutation-result", seed: Number(values.seed), rooms: counts, survivors };
  writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
  console.table(counts);
}

if (values.write) await write();
else for (const room of values.rooms.split(",")) await runRoom(room);
