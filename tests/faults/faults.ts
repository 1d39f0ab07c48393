// Faults on purpose: what a killed, starved or hindered run leaves behind. Each fault is a function that does
// it a number of times and gives what was seen; `lost` and `litter` are 0, or something is wrong.
import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { access, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { createRandom } from "../../src/inference/index.js";
import { inventedRows, writeInventedStudy } from "./invented.js";

/** What became of the tries of one fault. */
export interface FaultCount {
  readonly fault: string;
  readonly tries: number;
  /** Runs that ended well all the same. */
  readonly finished: number;
  /** Runs that ended with words of their own: what happened and what helps. */
  readonly refused: number;
  /** Runs that were ended from outside, or by the machine. */
  readonly ended: number;
  /** Reports, keys or notebooks that were there before and are no longer whole. */
  readonly lost: number;
  /** Files that no run needs, after the next run that ended well. */
  readonly litter: number;
}

interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly words: string;
}

const program = resolve("dist/cli/main.js");

/** The command line, as a process of its own. */
export function running(
  words: readonly string[],
  options: { readonly env?: NodeJS.ProcessEnv; readonly shell?: string } = {},
): { readonly child: ChildProcess; readonly end: Promise<Ended> } {
  const env = { ...process.env, ...options.env };
  const stdio = ["ignore", "pipe", "pipe"] as const;
  const child =
    options.shell === undefined
      ? spawn(process.execPath, [program, ...words], { env, stdio: [...stdio] })
      : spawn(
          "bash",
          ["-c", `${options.shell}; exec "$@"`, "bash", process.execPath, program, ...words],
          {
            env,
            stdio: [...stdio],
          },
        );
  let said = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on("data", (part) => {
      said += part;
    });
  }
  const end = new Promise<Ended>((done) => {
    child.on("close", (code, signal) => done({ code, signal, words: said }));
  });
  return { child, end };
}

const pause = (ms: number) => new Promise((done) => setTimeout(done, ms));

/** Whether every file that the manifest names is there with its hash. */
async function isWhole(report: string): Promise<boolean> {
  try {
    const manifest = JSON.parse(await readFile(join(report, "manifest.json"), "utf8"));
    for (const [path, hash] of Object.entries(manifest.files)) {
      const bytes = await readFile(join(report, path));
      if (createHash("sha256").update(bytes).digest("hex") !== hash) return false;
    }
    return Object.keys(manifest.files).length > 10;
  } catch {
    return false;
  }
}

const exists = (path: string) =>
  access(path).then(
    () => true,
    () => false,
  );

/** Hidden files beside a report but the one folder that it is a link to. */
async function litterBeside(path: string): Promise<number> {
  const names = await readdir(dirname(path));
  const own = names.filter((name) => name.startsWith(`.${basename(path)}`));
  return Math.max(0, own.length - 1);
}

type Tally = { -readonly [key in Exclude<keyof FaultCount, "fault">]: number };
const none = (): Tally => ({ tries: 0, finished: 0, refused: 0, ended: 0, lost: 0, litter: 0 });

/** Words of the program's own: one sentence that is no stack and no message of the machine alone. */
const ownWords = /(requires|could not|stopped|is full|no space|changed while|another)/i;

function count(tally: Tally, { code, signal, words }: Ended): void {
  tally.tries++;
  if (code === 0) tally.finished++;
  else if (signal === null && ownWords.test(words) && !/^\s+at .+:\d+:\d+/m.test(words))
    tally.refused++;
  else tally.ended++;
}

/** A folder with an invented study and a whole report of it. */
async function studyIn(
  folder: string,
): Promise<{ protocol: string; report: string; run: string[] }> {
  await writeInventedStudy(join(folder, "study"));
  const protocol = join(folder, "study", "protocol.json");
  const report = join(folder, "report");
  const run = ["study", protocol, "--out", report];
  return { protocol, report, run };
}

async function finish(tally: Tally, run: readonly string[], report: string): Promise<Tally> {
  const last = await running(run).end;
  if (last.code !== 0 || !(await isWhole(report))) tally.lost++;
  tally.litter += await litterBeside(report);
  return tally;
}

/** Tries of one fault in a folder of its own. */
type Fault = (folder: string, tries: number) => Promise<Tally>;

const killed =
  (signal: NodeJS.Signals, first: boolean): Fault =>
  async (folder, tries) => {
    const { report, run } = await studyIn(folder);
    const random = createRandom(7);
    const begun = Date.now();
    await running(run).end;
    const whole = Date.now() - begun;
    if (first) await rm(report, { recursive: true });
    const tally = none();
    for (let at = 0; at < tries; at++) {
      const { child, end } = running(run);
      await Promise.race([pause(whole * (0.1 + random.uniform())), end]);
      child.kill(signal);
      count(tally, await end);
      // either report is right, half of one is not; the first may not be there yet
      if ((await exists(report)) ? !(await isWhole(report)) : !first) tally.lost++;
      if (first) await rm(report, { recursive: true, force: true });
    }
    return await finish(tally, run, report);
  };

/** Runs under a shell's limit, or with an environment, over a whole report. */
const hindered =
  (options: Parameters<typeof running>[1]): Fault =>
  async (folder, tries) => {
    const { report, run } = await studyIn(folder);
    await running(run).end;
    const tally = none();
    for (let at = 0; at < tries; at++) {
      count(tally, await running(run, options).end);
      if (!(await isWhole(report))) tally.lost++;
    }
    return await finish(tally, run, report);
  };

const twoWriters: Fault = async (folder, tries) => {
  const { report, run } = await studyIn(folder);
  const tally = none();
  for (let at = 0; at < tries; at++) {
    const both = [running(run), running(run)];
    for (const { end } of both) count(tally, await end);
    if (!(await isWhole(report))) tally.lost++;
  }
  return await finish(tally, run, report);
};

const replacedInput: Fault = async (folder, tries) => {
  const { report, run, protocol } = await studyIn(folder);
  await running(run).end;
  const file = join(dirname(protocol), "readings.csv");
  const texts = [inventedRows(60, 0), inventedRows(61, 0)];
  const hashes = texts.map((text) => createHash("sha256").update(text).digest("hex"));
  const tally = none();
  for (let at = 0; at < tries; at++) {
    const { child, end } = running(run);
    let turn = 0;
    while (child.exitCode === null && child.signalCode === null) {
      await writeFile(file, texts[++turn % 2]);
      await pause(40 + 60 * (at % 10));
    }
    count(tally, await end);
    const { inputs } = JSON.parse(await readFile(join(report, "manifest.json"), "utf8"));
    const said = JSON.stringify(inputs);
    if (!(await isWhole(report)) || !hashes.some((hash) => said.includes(hash))) tally.lost++;
  }
  return await finish(tally, run, report);
};

/** A small disk of its own; null where this user may not mount one. */
function mounted(folder: string, options: string): boolean {
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", options, "tmpfs", folder], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

const onDisk =
  (before: string, during: (disk: string) => Promise<void>): Fault =>
  async (folder, tries) => {
    const { protocol } = await studyIn(folder);
    const disk = join(folder, "disk");
    await mkdir(disk);
    if (!mounted(disk, before))
      throw new Error("a disk of its own requires the right to mount one");
    try {
      const report = join(disk, "report");
      const run = ["study", protocol, "--out", report];
      await running(run).end;
      await during(disk);
      const tally = none();
      for (let at = 0; at < tries; at++) {
        count(tally, await running(run).end);
        if (!(await isWhole(report))) tally.lost++;
      }
      await rm(join(disk, "filler"), { force: true }).catch(() => {});
      execFileSync("mount", ["-o", "remount,rw,size=64m", disk], { stdio: "ignore" });
      return await finish(tally, run, report);
    } finally {
      execFileSync("umount", [disk], { stdio: "ignore" });
    }
  };

const keyTable: Fault = async (folder, tries) => {
  const tally = none();
  const random = createRandom(11);
  const raw = (name: string, from: number, to: number) =>
    writeFile(
      join(folder, name),
      ["Child ID,Eye,Screening date,Sphere,Cylinder,Axis"]
        .concat(
          Array.from({ length: to - from }, (_, at) =>
            ["R", "L"].map(
              (eye) =>
                `K${1000 + from + at},${eye},2031-03-${10 + (at % 15)},${(at % 9) / 4},-0.25,90`,
            ),
          ).flat(),
        )
        .join("\n"),
    );
  await raw("one.csv", 0, 40);
  await raw("two.csv", 20, 60);
  const run = (name: string, to: string) => [
    "prepare",
    join(folder, name),
    "--to",
    join(folder, to),
    "--key",
    join(folder, "key"),
  ];
  // the first call asks what the file holds
  const sides = [
    ["one.csv", "a"],
    ["two.csv", "b"],
  ] as const;
  for (const [name, to] of sides) {
    await running(run(name, to)).end;
    const path = join(folder, to, "prepare.json");
    const choices = JSON.parse(await readFile(path, "utf8"));
    choices.files[0].holds = ["readings"];
    await writeFile(path, JSON.stringify(choices));
  }
  const known = async () => {
    const text = await readFile(join(folder, "key", "children.csv"), "utf8").catch(() => "");
    return new Set([...text.matchAll(/K1\d\d\d/g)].map(([id]) => id));
  };
  let before = await known();
  for (let at = 0; at < tries; at++) {
    const both = [running(run("one.csv", "a")), running(run("two.csv", "b"))];
    if (at % 2 === 1) {
      await pause(300 + 2000 * random.uniform());
      both[at % 4 === 1 ? 0 : 1].child.kill("SIGKILL");
    }
    for (const { end } of both) count(tally, await end);
    const now = await known();
    // no child who was known is forgotten
    if ([...before].some((id) => !now.has(id))) tally.lost++;
    before = now;
  }
  for (const [name, to] of sides) {
    await running(run(name, to)).end;
  }
  tally.litter += (await readdir(join(folder, "key"))).filter((name) =>
    name.startsWith("."),
  ).length;
  if ((await known()).size !== 60) tally.lost++;
  return tally;
};

const notebook: Fault = async (_, tries) => {
  await mkdir("out", { recursive: true });
  // a notebook lies where the package is installed
  const place = await mkdtemp(resolve("out", "faults-"));
  const file = join(place, "invented.ipynb");
  const cell = (source: string) => ({
    cell_type: "code",
    execution_count: null,
    id: "a1",
    metadata: {},
    outputs: [],
    source,
  });
  const text = JSON.stringify({
    cells: [cell('import { meanInterval } from "meridional";\nmeanInterval([1, 2, 4]).value')],
    metadata: {},
    nbformat: 4,
    nbformat_minor: 5,
  });
  await writeFile(file, text);
  const run = ["notebooks", "--write", file];
  const tally = none();
  const random = createRandom(13);
  for (let at = 0; at < tries; at++) {
    const { child, end } = running(run);
    await Promise.race([pause(12_000 * random.uniform()), end]);
    child.kill("SIGKILL");
    count(tally, await end);
    try {
      if (JSON.parse(await readFile(file, "utf8")).cells.length !== 1) tally.lost++;
    } catch {
      tally.lost++;
    }
  }
  const last = await running(run).end;
  if (last.code !== 0) tally.lost++;
  tally.litter += (await readdir(place)).filter((name) => name.startsWith(".")).length;
  await rm(place, { recursive: true });
  return tally;
};

/** A thread that stops at once, in every run: what a crash of a worker looks like from outside. */
const crashing = `data:text/javascript,import { isMainThread } from "node:worker_threads"; if (!isMainThread) process.exit(3);`;

/** Every fault, how often it is tried at length, and the words of the table. */
export const faults: readonly {
  readonly fault: string;
  readonly long: number;
  readonly short: number;
  readonly make: Fault;
}[] = [
  {
    fault: "killed while a first report is made",
    long: 20,
    short: 0,
    make: killed("SIGKILL", true),
  },
  { fault: "killed over an old report", long: 60, short: 0, make: killed("SIGKILL", false) },
  { fault: "interrupted from the keyboard", long: 20, short: 0, make: killed("SIGINT", false) },
  { fault: "two writers of one report", long: 10, short: 0, make: twoWriters },
  { fault: "an input replaced while it is read", long: 10, short: 0, make: replacedInput },
  {
    fault: "a full disk",
    long: 10,
    short: 0,
    make: onDisk("size=3m", async (disk) => {
      await writeFile(join(disk, "filler"), Buffer.alloc(1.4e6));
    }),
  },
  {
    fault: "a disk that is read only",
    long: 5,
    short: 0,
    make: onDisk("size=8m", async (disk) => {
      execFileSync("mount", ["-o", "remount,ro", disk], { stdio: "ignore" });
    }),
  },
  { fault: "few handles (40)", long: 5, short: 0, make: hindered({ shell: "ulimit -n 40" }) },
  { fault: "few handles (100)", long: 5, short: 0, make: hindered({ shell: "ulimit -n 100" }) },
  {
    fault: "a low heap (30 MB)",
    long: 5,
    short: 0,
    make: hindered({ env: { NODE_OPTIONS: "--max-old-space-size=30" } }),
  },
  {
    fault: "workers that crash",
    long: 5,
    short: 0,
    make: hindered({ env: { NODE_OPTIONS: `--import ${JSON.stringify(crashing)}` } }),
  },
  { fault: "two writers of one key table, one of them killed", long: 20, short: 1, make: keyTable },
  { fault: "killed while a notebook is written", long: 10, short: 0, make: notebook },
];
