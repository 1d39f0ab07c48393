/** The counts that a binomial number takes with noticeable probability, from `first` on. */
interface BinomialWindow {
  readonly first: number;
  readonly chances: Float64Array;
}

/** Probabilities of n trials, outward from the mode until they are below 1e-16 of it. */
function binomialWindow(n: number, p: number): BinomialWindow {
  if (p <= 0) return { first: 0, chances: Float64Array.of(1) };
  if (p >= 1) return { first: n, chances: Float64Array.of(1) };
  const odds = p / (1 - p);
  const mode = Math.min(n, Math.floor((n + 1) * p));
  const above = [1];
  for (let x = mode; x < n && above.at(-1)! > 1e-16; x++) {
    above.push((above.at(-1)! * odds * (n - x)) / (x + 1));
  }
  const below: number[] = [];
  for (let x = mode, chance = 1; x > 0 && chance > 1e-16; x--) {
    chance *= x / (odds * (n - x + 1));
    below.push(chance);
  }
  const chances = Float64Array.from([...below.reverse(), ...above]);
  const total = chances.reduce((sum, chance) => sum + chance, 0);
  return { first: mode - below.length, chances: chances.map((chance) => chance / total) };
}

/** The mean of a function of a binomial number. */
export function binomialMean(n: number, p: number, value: (x: number) => number): number {
  const { first, chances } = binomialWindow(n, p);
  return chances.reduce((sum, chance, at) => sum + chance * value(first + at), 0);
}
