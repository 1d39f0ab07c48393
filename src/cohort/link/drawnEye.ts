import { createRandom } from "../../inference/index.js";
import { InputError } from "../../results/index.js";

/**
 * One of two eyes, 0 right or 1 left, from the seed and the child's identifier alone: neither the
 * order of the rows nor the other children change it.
 */
export function drawnEye(
  seed: number | undefined,
  caller = "eyePairs",
): (subject: string) => 0 | 1 {
  if (seed === undefined) {
    throw new InputError(`${caller} requires a seed for eyes "random", got none`);
  }
  const random = createRandom(seed);
  return (subject) => {
    random.restart(seed, streamOf(subject));
    return random.uniform() < 0.5 ? 0 : 1;
  };
}

/** 32 bits of an identifier: FNV-1a over its code units (Fowler, Noll and Vo). */
function streamOf(subject: string): number {
  let hash = 0x811c9dc5;
  for (let at = 0; at < subject.length; at++) {
    hash = Math.imul(hash ^ subject.charCodeAt(at), 0x01000193);
  }
  return hash >>> 0;
}
