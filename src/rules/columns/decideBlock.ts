import { beyond, type CompiledRule, type Leaf, type Tree } from "../compileRule.js";
import { certaintyOf, unknown, yes } from "./certainty.js";
import { fillEye, fillPair } from "./fillQuantity.js";
import { missing } from "./missing.js";
import type { RuleColumns } from "./ruleColumns.js";

/** Children decided at a time: their working columns stay in the processor's cache. */
export const blockSize = 4096;

/** Working columns of a rule, made once. */
interface BlockWork {
  /** By limit, the position of its quantity among the working columns. */
  readonly column: readonly number[];
  /** By quantity: thousandths of the right eye or the pair, and of the left eye. */
  readonly right: readonly Int32Array[];
  readonly left: readonly Int32Array[];
  /** By limit: certainty in the two lowest bits, above them the bit of the criterion if crossed. */
  readonly words: readonly Int32Array[];
}

export function blockWork({ leaves }: CompiledRule): BlockWork {
  const keys = [...new Set(leaves.map(({ key }) => key))];
  const columns = () => keys.map(() => new Int32Array(blockSize));
  return {
    column: leaves.map(({ key }) => keys.indexOf(key)),
    right: columns(),
    left: columns(),
    words: leaves.map(() => new Int32Array(blockSize)),
  };
}

/** Certainty of every limit for the children from `start` on. */
export function decideLimits(
  { leaves }: CompiledRule,
  columns: RuleColumns,
  start: number,
  size: number,
  work: BlockWork,
): void {
  const filled = new Uint8Array(work.right.length);
  for (const [at, leaf] of leaves.entries()) {
    const column = work.column[at];
    const right = work.right[column].subarray(0, size);
    const left = work.left[column].subarray(0, size);
    if (filled[column] === 0) {
      filled[column] = 1;
      if (leaf.eye === "pair") fillPair(leaf, columns, start, right);
      else {
        fillEye(leaf, columns.right, start, right);
        fillEye(leaf, columns.left, start, left);
      }
    }
    fillWords(leaf, right, leaf.eye === "pair" ? right : left, work.words[at]);
  }
}

function fillWords(leaf: Leaf, right: Int32Array, left: Int32Array, words: Int32Array): void {
  // in local names, which a loop reads faster than imports
  const sure = yes;
  const open = unknown;
  const crossed = sure | (4 << leaf.criterion);
  const size = right.length;
  if ((leaf.eye !== "either" && leaf.eye !== "pair") || leaf.negated) {
    for (let at = 0; at < size; at++) {
      const code = certaintyOf(leaf, numeric(right[at]), numeric(left[at]));
      words[at] = code === sure ? crossed : code;
    }
    return;
  }
  // by signs of differences: on mixed data a comparison is a wrong guess of the processor
  const far = 2 * beyond;
  const low = Math.max(leaf.low, -far) | 0;
  const last = (Math.min(leaf.high, far) - 1) | 0;
  if (leaf.eye === "pair") {
    for (let at = 0; at < size; at++) {
      const one = right[at];
      const outside = ((one - low) | (last - one)) >> 31;
      words[at] = (~outside & crossed) | (outside & ((one + far) >> 31) & open);
    }
    return;
  }
  for (let at = 0; at < size; at++) {
    const one = right[at];
    const other = left[at];
    const outside = (((one - low) | (last - one)) & ((other - low) | (last - other))) >> 31;
    const lacks = ((one + far) | (other + far)) >> 31;
    words[at] = (~outside & crossed) | (outside & lacks & open);
  }
}

function numeric(thousandths: number): number {
  return thousandths === missing ? Number.NaN : thousandths;
}

/** The value of an expression for each child of a block, into `result`. */
export function decideTree(
  tree: Tree,
  words: readonly Int32Array[],
  result: Int32Array,
  size: number,
): void {
  if (tree.op === "limit") {
    result.set(words[tree.leaf].subarray(0, size));
    return;
  }
  const sure = yes;
  const [first, ...others] = tree.members;
  decideTree(first, words, result, size);
  for (const member of others) {
    let column = new Int32Array(0);
    if (member.op === "limit") column = words[member.leaf] as typeof column;
    else {
      column = new Int32Array(size);
      decideTree(member, words, column, size);
    }
    if (tree.op === "any") {
      for (let at = 0; at < size; at++) result[at] |= column[at];
    } else {
      for (let at = 0; at < size; at++) {
        const code = result[at] & column[at] & sure;
        result[at] = code === sure ? result[at] | column[at] : code;
      }
    }
  }
}
