import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { InputError } from "../results/index.js";

/** A seeded source of random numbers. */
export interface Random {
  /** 32 random bits, as an unsigned integer. */
  bits(): number;
  /** Uniform in [0, 1), with 53 random bits. */
  uniform(): number;
  /** Uniform integer in [0, bound). */
  integer(bound: number): number;
  /** Standard normal, by the polar method of Marsaglia and Bray 1964. */
  normal(): number;
  /** Begins another sequence in place: what follows equals a fresh `createRandom(seed, stream)`. */
  restart(seed: number, stream?: number): void;
}

/**
 * Seeded random numbers: xoroshiro128+ (Blackman and Vigna 2018), by pure-rand.
 *
 * Each `stream` of one seed is a sequence of its own, so that a replicate, a child or a worker can
 * own one and the result does not depend on who drew first.
 *
 * @param seed integer
 * @param stream integer, 0 by default
 * @throws when seed or stream is not an integer
 *
 * @example
 * createRandom(7).integer(1000) === createRandom(7).integer(1000) // => true
 */
export function createRandom(seed: number, stream = 0): Random {
  if (!Number.isSafeInteger(seed) || !Number.isSafeInteger(stream)) {
    throw new InputError(
      `createRandom requires an integer seed and stream, got ${seed}, ${stream}`,
    );
  }
  let generator = xoroshiro128plusFromState(mixedState(seed, stream));
  let spare = Number.NaN;
  const bits = () => generator.next() >>> 0;
  const uniform = () => ((bits() >>> 5) * 67108864 + (bits() >>> 6)) / 9007199254740992;
  return {
    bits,
    uniform,
    integer: (bound) => Math.floor(uniform() * bound),
    normal() {
      if (!Number.isNaN(spare)) {
        const value = spare;
        spare = Number.NaN;
        return value;
      }
      for (;;) {
        const x = 2 * uniform() - 1;
        const y = 2 * uniform() - 1;
        const square = x * x + y * y;
        if (square > 0 && square < 1) {
          const scale = Math.sqrt((-2 * Math.log(square)) / square);
          spare = y * scale;
          return x * scale;
        }
      }
    },
    restart(nextSeed, nextStream = 0) {
      generator = xoroshiro128plusFromState(mixedState(nextSeed, nextStream));
      spare = Number.NaN;
    },
  };
}

/** Four words from seed and stream, by the finaliser of MurmurHash3 over a Weyl sequence. */
function mixedState(seed: number, stream: number): [number, number, number, number] {
  let word = 0x9e3779b9;
  const absorb = (value: number) => {
    word = finalise((word ^ (value | 0)) + 0x9e3779b9);
    word = finalise((word ^ Math.floor(value / 4294967296)) + 0x9e3779b9);
  };
  absorb(seed);
  absorb(stream);
  const next = () => {
    word = (word + 0x9e3779b9) | 0;
    return finalise(word);
  };
  return [next() | 1, next(), next(), next()];
}

function finalise(word: number): number {
  let h = word | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}
