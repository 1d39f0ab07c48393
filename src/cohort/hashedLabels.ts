import type { CellTexts } from "./cellTexts.js";

/**
 * Codes of distinct words by their 64-bit hashes: an open-addressed table, so that a word is turned
 * into text only when it is new. Two of a million words share a hash in about one of 10^7 files
 * (birthday bound, n² / 2^65). Labels have no blanks around them; the hashes are of the cells as written.
 */
export function hashedLabels() {
  const labels: string[] = [];
  // number of a word in each slot, -1 where it is free
  let slots = new Int32Array(1 << 12).fill(-1);
  // the two halves of each word's hash
  let keys = new Int32Array(slots.length);
  let used = 0;
  // from the first word with blanks around it on, several words can have one label
  let shared: { codeOfWord: number[]; codeOfText: Map<string, number> } | null = null;

  return {
    labels,
    codes(hashes: BigUint64Array, count: number, texts: () => CellTexts): Int32Array {
      const halves = new Int32Array(hashes.buffer, hashes.byteOffset, 2 * count);
      const found = new Int32Array(count);
      const fresh: number[] = [];
      // nothing but look-ups in this loop, so that the processor can wait for several at once
      for (let row = 0; row < count; row++) {
        const low = halves[2 * row];
        const high = halves[2 * row + 1];
        if (row > 0 && halves[2 * row - 2] === low && halves[2 * row - 1] === high) {
          found[row] = found[row - 1];
          continue;
        }
        const slot = slotOf(low, high);
        if (slots[slot] >= 0) found[row] = slots[slot];
        else {
          fresh.push(row);
          found[row] = used;
          keys[2 * used] = low;
          keys[2 * used + 1] = high;
          slots[slot] = used++;
          if (2 * used === slots.length) grow();
        }
      }
      if (fresh.length > 0) {
        const textOf = texts();
        for (const row of fresh) addWord(textOf(row));
      }
      if (shared === null) return found;
      const { codeOfWord } = shared;
      return found.map((word) => codeOfWord[word]);
    },
  };

  function addWord(written: string): void {
    const text = written.trim();
    if (shared === null && text === written) {
      labels.push(text);
      return;
    }
    shared ??= {
      codeOfWord: [...labels.keys()],
      codeOfText: new Map(labels.map((label, code) => [label, code])),
    };
    const code = shared.codeOfText.get(text) ?? labels.push(text) - 1;
    shared.codeOfText.set(text, code);
    shared.codeOfWord.push(code);
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
    const known = keys;
    slots = new Int32Array(8 * slots.length).fill(-1);
    keys = new Int32Array(slots.length);
    keys.set(known);
    for (let word = 0; word < used; word++) {
      slots[slotOf(keys[2 * word], keys[2 * word + 1])] = word;
    }
  }
}
