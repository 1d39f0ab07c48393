import { type CellVector, inlineBytes } from "./cellVector.js";

/**
 * Codes of distinct words in an open-addressed table, so that a word is turned into text only when it
 * is new. The key of a word is the word itself, length and bytes, where it has up to `inlineBytes`; of a
 * longer one its length with its 64-bit hash, which two of a million words share in less than one of 10^7
 * files (birthday bound, n² / 2^65), or where there are no hashes its number among the long ones. Labels have no blanks around them; keys are of the cells as written.
 */
export function wordCodes() {
  const labels: string[] = [];
  // one more than the number of the word in each slot, 0 where it is free
  let slots = new Int32Array(1 << 12);
  // four numbers a word
  let keys = new Int32Array(slots.length * 2);
  let used = 0;
  // from the first word with blanks around it on, several words can have one label
  let shared: { codeOfWord: number[]; codeOfText: Map<string, number> } | null = null;
  // long words without a hash
  const numberOfLong = new Map<string, number>();
  let codesOfCells = new Int32Array(0);
  // rows of new words
  let fresh = new Int32Array(0);

  return {
    labels,
    /**
     * The codes of a column's next cells, in an array that the call after this one writes again.
     *
     * @param hashes of all cells, where the column is known to have long ones
     */
    codes(
      { words, text, eachText }: CellVector,
      n: number,
      hashes: BigUint64Array | null,
    ): Int32Array {
      const halves =
        hashes === null ? null : new Int32Array(hashes.buffer, hashes.byteOffset, 2 * n);
      if (codesOfCells.length < n) {
        codesOfCells = new Int32Array(n);
        fresh = new Int32Array(n);
      }
      // no more than there are cells: what stands behind them is of a fuller chunk
      const found = codesOfCells.subarray(0, n);
      // read once: an imported constant has its price in the loop below
      const longest = inlineBytes;
      let news = 0;
      let [length, first, second, third] = [-1, 0, 0, 0];
      let word = -1;
      // nothing but look-ups in this loop, so that the processor can wait for several at once
      for (let row = 0; row < n; row++) {
        const at = 4 * row;
        if (
          words[at] !== length ||
          words[at + 1] !== first ||
          words[at + 2] !== second ||
          words[at + 3] !== third
        ) {
          length = words[at];
          first = words[at + 1];
          second = words[at + 2];
          third = words[at + 3];
          if (length > longest) {
            first = halves === null ? numberedLong(text(row)) : halves[2 * row];
            second = halves === null ? 0 : halves[2 * row + 1];
            third = 0;
          }
          const slot = slotOf(length, first, second, third);
          word = slots[slot] - 1;
          if (word < 0) {
            word = addKey(slot, length, first, second, third);
            fresh[news++] = row;
          }
          // a long word's bytes are elsewhere: the next one is looked up again
          if (length > longest) length = -1;
        }
        found[row] = word;
      }
      if (news > 0) eachText(fresh.subarray(0, news), addWord);
      if (shared === null) return found;
      const { codeOfWord } = shared;
      for (let row = 0; row < n; row++) found[row] = codeOfWord[found[row]];
      return found;
    },
  };

  function numberedLong(text: string): number {
    const number = numberOfLong.get(text) ?? numberOfLong.size;
    numberOfLong.set(text, number);
    return number;
  }

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

  function addKey(slot: number, length: number, first: number, second: number, third: number) {
    const word = used++;
    keys[4 * word] = length;
    keys[4 * word + 1] = first;
    keys[4 * word + 2] = second;
    keys[4 * word + 3] = third;
    slots[slot] = used;
    if (2 * used === slots.length) grow();
    return word;
  }

  function slotOf(length: number, first: number, second: number, third: number): number {
    const mask = slots.length - 1;
    let slot = startOf(length, first, second, third) & mask;
    let word = slots[slot] - 1;
    while (
      word >= 0 &&
      (keys[4 * word] !== length ||
        keys[4 * word + 1] !== first ||
        keys[4 * word + 2] !== second ||
        keys[4 * word + 3] !== third)
    ) {
      slot = (slot + 1) & mask;
      word = slots[slot] - 1;
    }
    return slot;
  }

  function grow(): void {
    const known = keys;
    slots = new Int32Array(4 * slots.length);
    keys = new Int32Array(2 * slots.length);
    keys.set(known);
    for (let word = 0; word < used; word++) {
      const at = 4 * word;
      slots[slotOf(keys[at], keys[at + 1], keys[at + 2], keys[at + 3])] = word + 1;
    }
  }
}

/**
 * Where the search for a word begins. Words that differ in their last character only, as numbered
 * subjects do, begin next to each other, in one line of the processor's cache.
 */
function startOf(length: number, first: number, second: number, third: number): number {
  const shift = 8 * ((length - 1) & 3);
  if (length <= 4)
    return (mixed(first & ~(15 << shift), second, third) << 4) | ((first >>> shift) & 15);
  if (length <= 8)
    return (mixed(first, second & ~(15 << shift), third) << 4) | ((second >>> shift) & 15);
  if (length <= 12)
    return (mixed(first, second, third & ~(15 << shift)) << 4) | ((third >>> shift) & 15);
  return mixed(first, second, third);
}

/** Every bit of the three numbers reaches the lower bits (multipliers of Fibonacci hashing, Knuth). */
function mixed(first: number, second: number, third: number): number {
  let bits = Math.imul(first, 0x9e3779b1);
  bits = Math.imul((bits ^ (bits >>> 15)) + second, 0x85ebca6b);
  bits = Math.imul((bits ^ (bits >>> 13)) + third, 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}
