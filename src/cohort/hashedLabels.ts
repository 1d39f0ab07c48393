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
  // number of a word in each slot, -1 where it is free
  let slots = new Int32Array(1 << 12).fill(-1);
  let used = 0;
  // by number of a word: the two halves of its hash, and its code
  let keys = new Int32Array(slots.length);
  let codeOfWord = new Int32Array(slots.length / 2);

  return {
    labels,
    codes(hashes: BigUint64Array, count: number, texts: () => CellTexts): Int32Array {
      const halves = new Int32Array(hashes.buffer, hashes.byteOffset, 2 * count);
      const found = new Int32Array(count);
      let textOf: CellTexts | null = null;
      for (let row = 0; row < count; row++) {
        const low = halves[2 * row];
        const high = halves[2 * row + 1];
        // neighbours often share a word
        if (row > 0 && halves[2 * row - 2] === low && halves[2 * row - 1] === high) {
          found[row] = found[row - 1];
          continue;
        }
        const slot = slotOf(low, high);
        let word = slots[slot];
        if (word < 0) {
          textOf ??= texts();
          word = add(slot, low, high, codeOf(textOf(row)));
        }
        found[row] = codeOfWord[word];
      }
      return found;
    },
  };

  function add(slot: number, low: number, high: number, code: number): number {
    const word = used++;
    keys[2 * word] = low;
    keys[2 * word + 1] = high;
    codeOfWord[word] = code;
    slots[slot] = word;
    if (2 * used === slots.length) grow();
    return word;
  }

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
    const mask = slots.length - 1;
    let slot = low & mask;
    let word = slots[slot];
    while (word >= 0 && (keys[2 * word] !== low || keys[2 * word + 1] !== high)) {
      slot = (slot + 1) & mask;
      word = slots[slot];
    }
    return slot;
  }

  function grow(): void {
    const oldKeys = keys;
    const oldCodes = codeOfWord;
    slots = new Int32Array(8 * slots.length).fill(-1);
    keys = new Int32Array(slots.length);
    codeOfWord = new Int32Array(slots.length / 2);
    keys.set(oldKeys);
    codeOfWord.set(oldCodes);
    for (let word = 0; word < used; word++) {
      slots[slotOf(keys[2 * word], keys[2 * word + 1])] = word;
    }
  }
}
