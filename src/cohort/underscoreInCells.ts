import { open } from "node:fs/promises";

const blockSize = 1 << 20;
const underscore = 0x5f;
const lineFeed = 0x0a;

/**
 * Whether an underscore stands anywhere below the first line of a file. DuckDB takes one between
 * digits for part of a number; where there is none, no cell needs to be looked through for it.
 */
export async function underscoreInCells(path: string): Promise<boolean> {
  const handle = await open(path);
  try {
    const block = Buffer.allocUnsafe(blockSize);
    for (let at = 0; ; at += blockSize) {
      const { bytesRead } = await handle.read(block, 0, blockSize, at);
      if (bytesRead === 0) return false;
      const bytes = block.subarray(0, bytesRead);
      if (bytes.includes(underscore, at === 0 ? bytes.indexOf(lineFeed) + 1 : 0)) return true;
      if (bytesRead < blockSize) return false;
    }
  } finally {
    await handle.close();
  }
}
