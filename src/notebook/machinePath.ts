import { homedir, tmpdir } from "node:os";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";

/** The first folder of this machine that a text names, or undefined; pictures are left out. */
export function machinePath(text: string): string | undefined {
  const readable = text.replace(/data:[\w/+;=-]+,[\w+/=%]+|[\w+/=]{200,}/g, "");
  const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
  return [root, homedir(), tmpdir(), process.cwd()].find(
    (folder) => folder.length > 1 && readable.includes(`${folder}/`),
  );
}
