import { stat } from "node:fs/promises";

/** Whether a process of this machine runs. */
export function runs(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** Since when a file was not touched, in milliseconds; 0 for none. */
export async function ageOf(path: string): Promise<number> {
  const found = await stat(path).catch(() => null);
  return found === null ? 0 : Date.now() - found.mtimeMs;
}
