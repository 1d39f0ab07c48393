import { randomBytes } from "node:crypto";
import { open, readFile, rm, utimes } from "node:fs/promises";
import { hostname } from "node:os";
import { basename, dirname, join, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { InputError } from "../../results/index.js";
import { fileFault } from "../fileFault.js";
import { ageOf, runs } from "./processes.js";

export interface LockOptions {
  /** The function that an error names. */
  readonly caller: string;
  /** How long another process is waited for, in milliseconds. */
  readonly wait?: number;
}

/** The holder shows every 5 s that it lives. */
const heartbeat = 5_000;
/** A lock of another machine that showed nothing for this long is left over. */
const silence = 60_000;
/** Taking over a lock takes a few milliseconds. */
const takeover = 10_000;

/**
 * Does some work while no other process of this package does work on the same file or folder: reading a key
 * table and writing it back, replacing a report. The lock is a file beside it. What a killed process left is
 * recognised (its process is gone, or it showed no life for a minute) and taken over.
 *
 * @throws InputError where another process holds it for longer than `wait`
 */
export async function whileLocked<T>(
  path: string,
  { caller, wait = 120_000 }: LockOptions,
  work: () => Promise<T>,
): Promise<T> {
  const target = resolve(path);
  const lock = join(dirname(target), `.${basename(target).slice(0, 80)}.lock`);
  const own = JSON.stringify({
    process: process.pid,
    machine: hostname(),
    token: randomBytes(8).toString("hex"),
  });
  const until = Date.now() + wait;
  while (!(await create(lock, own, target, caller))) {
    await takeOver(lock);
    if (Date.now() > until) {
      throw new InputError(
        `${caller} requires ${basename(target)} for itself, got another run that writes it; wait for that run to end, or name another place`,
      );
    }
    await pause(20 + Math.floor(Math.random() * 60));
  }
  const alive = setInterval(() => {
    const now = new Date();
    utimes(lock, now, now).catch(() => {});
  }, heartbeat);
  alive.unref();
  try {
    return await work();
  } finally {
    clearInterval(alive);
    if ((await textOf(lock)) === own) await rm(lock, { force: true });
  }
}

async function create(
  lock: string,
  content: string,
  target: string,
  caller: string,
): Promise<boolean> {
  try {
    const file = await open(lock, "wx", 0o600);
    try {
      await file.writeFile(content);
    } finally {
      await file.close();
    }
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw fileFault(error, target, caller);
  }
}

/** Removes a lock whose holder is gone. A second lock lets one process at a time do so. */
async function takeOver(lock: string): Promise<void> {
  if (!(await isLeft(lock))) return;
  const guard = `${lock}-taken-over`;
  const file = await open(guard, "wx", 0o600).catch(() => null);
  if (file === null) {
    if ((await ageOf(guard)) > takeover) await rm(guard, { force: true });
    return;
  }
  try {
    if (await isLeft(lock)) await rm(lock, { force: true });
  } finally {
    await file.close();
    await rm(guard, { force: true });
  }
}

async function isLeft(lock: string): Promise<boolean> {
  const age = await ageOf(lock);
  const text = await textOf(lock);
  if (text === null) return false;
  const holder = holderIn(text);
  // a lock without its text is being written, or its writer was killed
  if (holder === null) return age > silence;
  if (holder.machine !== hostname()) return age > silence;
  return !runs(holder.process) || age > 10 * silence;
}

function holderIn(text: string): { process: number; machine: string } | null {
  try {
    const { process, machine } = JSON.parse(text);
    return Number.isInteger(process) && typeof machine === "string" ? { process, machine } : null;
  } catch {
    return null;
  }
}

async function textOf(path: string): Promise<string | null> {
  return await readFile(path, "utf8").catch(() => null);
}
