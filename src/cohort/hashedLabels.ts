import type { CellTexts } from "./cellTexts.js";

/**
 * Codes of distinct words by their 64-bit hashes: an open-addressed table, so that a word is turned
 * into text only when it is new. Two of a million words share a hash in about one of 10^7 files
 * (birthday bound, n² / 2^65). Labels have no blanks around them; the hashes are of the cells as written.
 */
export function hashedLabels() {
  const labels: string[] = [];
  // codes by label, from the first word with blanks around it on
  let byText: Map<string, number> | null = null;
  let used = 0;
  let size = 1 << 12;
  // two halves of each hash beside each other, as the column holds them
  let keys = new Uint32Array(2 * size);
  let codes = new Int32Array(size).fill(-1);

  return {
    labels,
    codes(hashes: BigUint64Array, count: number, texts: () => CellTexts): Int32Array {
      let textOf: CellTexts | null = null;
      const halves = new Uint32Array(hashes.buffer, hashes.byteOffset, 2 * count);
      const found = new Int32Array(count);
      for (let row = 0; row < count; row++) {
        const low = halves[2 * row];
        const high = halves[2 * row + 1];
        let slot = slotOf(low, high);
        if (codes[slot] < 0) {
          if (2 * ++used > size) {
            grow();
            slot = slotOf(low, high);
          }
          keys[2 * slot] = low;
          keys[2 * slot + 1] = high;
          textOf ??= texts();
          codes[slot] = codeOf(textOf(row));
        }
        found[row] = codes[slot];
      }
      return found;
    },
  };

  function codeOf(written: string): number {
    const text = written.trim();
    if (byText === null && text === written) return labels.push(text) - 1;
    byText ??= new Map(labels.map((label, code) => [label, code]));
    const known = byText.get(text);
    if (known !== undefined) return known;
    byText.set(text, labels.length);
    return labels.push(text) - 1;
  }

  function slotOf(low: number, high: number): number {
    let slot = low & (size - 1);
    while (codes[slot] >= 0 && (keys[2 * slot] !== low || keys[2 * slot + 1] !== high)) {
      slot = (slot + 1) & (size - 1);
    }
    return slot;
  }

  function grow(): void {
    const oldKeys = keys;
    const oldCodes = codes;
    size *= 2;
    keys = new Uint32Array(2 * size);
    codes = new Int32Array(size).fill(-1);
    oldCodes.forEach((code, slot) => {
      if (code < 0) return;
      const to = slotOf(oldKeys[2 * slot], oldKeys[2 * slot + 1]);
      keys[2 * to] = oldKeys[2 * slot];
      keys[2 * to + 1] = oldKeys[2 * slot + 1];
      codes[to] = code;
    });
  }
}
